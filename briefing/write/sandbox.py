"""Where templates are filled: jinja2's sandbox with a short list of what a template may use, and with a meter.

A folder may come from somebody else, and building it must not run their code, read their choice of files, or never end. So a
template sees values and a few filters, calls next to nothing, and everything that it does is charged to a meter: no clock, no
thread, so that a template that is too much is too much on every machine.
"""

from __future__ import annotations

import types
from collections.abc import Callable, Mapping
from contextvars import ContextVar
from functools import wraps
from typing import Any

import jinja2
from jinja2 import nodes
from jinja2.compiler import CodeGenerator, Frame
from jinja2.exceptions import SecurityError
from jinja2.nodes import EvalContext
from jinja2.runtime import BlockReference, Context, LoopContext, Macro, markup_join, str_join
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import pass_context
from jinja2.visitor import NodeTransformer

# Our choice: an outline of a thousand lines takes some 30,000 units; this many are spent within about a second.
MOST_UNITS = 500_000
_CHARACTERS = 20
"""So many characters that are written, compared or joined cost one unit."""
_NODES = 8
"""So many parts of a template that are run through cost one unit."""
_MOST_NUMBER = 10**15

FILTERS = (
    "abs", "capitalize", "count", "d", "default", "e", "escape", "first", "float", "int", "items", "join", "last", "length",
    "list", "lower", "map", "max", "min", "reject", "rejectattr", "replace", "reverse", "select", "selectattr", "sort", "string",
    "sum", "title", "trim", "truncate", "unique", "upper", "wordcount",
)  # fmt: skip
TESTS = (
    "!=", "<", "<=", "==", ">", ">=", "boolean", "defined", "divisibleby", "eq", "equalto", "even", "false", "float", "ge",
    "greaterthan", "gt", "in", "integer", "iterable", "le", "lessthan", "lower", "lt", "mapping", "ne", "none", "number", "odd",
    "sequence", "string", "true", "undefined", "upper",
)  # fmt: skip
# What can be called: methods that give no more than they are given, of text and of a table; `range`, macros, the loop.
_METHODS: tuple[tuple[type, frozenset[str]], ...] = (
    (str, frozenset({"capitalize", "endswith", "isdigit", "lower", "lstrip", "removeprefix", "removesuffix", "rstrip",
                     "split", "splitlines", "startswith", "strip", "title", "upper"})),
    (dict, frozenset({"get", "items", "keys", "values"})),
    (LoopContext, frozenset({"cycle", "changed"})),
)  # fmt: skip
# Names that no template can write.
_STEP, _WEIGHED, _JOINED = " step", " weighed", " joined"


class TooMuch(jinja2.TemplateRuntimeError):
    """A template does more than any page needs."""


class Meter:
    """Counts what a template does; `limit` None counts nothing (the built-in templates)."""

    def __init__(self, limit: int | None) -> None:
        self.left = limit

    def charge(self, units: int) -> None:
        """Charge some units. Raises TooMuch where none are left."""
        if self.left is not None:
            self.left -= abs(units) + 1
            if self.left < 0:
                raise TooMuch("it does more than any page needs (loops in loops, or a text that grows without end)")

    def weigh(self, *values: object) -> None:
        """Charge what it costs to look at values: all of their text, all of their members."""
        if self.left is None:
            return
        waiting, units = list(values), 0
        while waiting:
            value = waiting.pop()
            if isinstance(value, str):
                units += len(value) // _CHARACTERS
            elif isinstance(value, Mapping):
                units += len(value)
                waiting += [*value.keys(), *value.values()] if len(value) <= self.left else []
            elif isinstance(value, list | tuple | set | frozenset):
                units += len(value)
                waiting += value if len(value) <= self.left else ()
            elif isinstance(value, range):
                units += len(value)
            if units > self.left:
                break
        self.charge(units)


METER: ContextVar[Meter] = ContextVar("meter")
GIVEN: ContextVar[tuple[Callable[..., Any], ...]] = ContextVar("given", default=())
"""Functions that are among the values of this filling, and may be called."""


class Sandbox(ImmutableSandboxedEnvironment):
    """A jinja2 environment for templates from anybody: nothing with an underscore, a listed few calls, everything metered.

    What a template may not do raises jinja2's SecurityError, what is too much TooMuch; both are TemplateErrors.
    """

    intercepted_binops = frozenset(ImmutableSandboxedEnvironment.default_binop_table)

    def __init__(self, loader: jinja2.BaseLoader, *, html: bool, finalize: Callable[[object], object] | None) -> None:
        def written(value: object) -> object:
            METER.get().weigh(value)
            METER.get().charge(0)
            return finalize(value) if finalize else value

        super().__init__(
            loader=loader,
            undefined=jinja2.StrictUndefined,
            autoescape=html,
            finalize=written,
            optimized=False,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
        )
        self.globals = {"range": self.globals["range"]}
        all_filters: dict[str, Any] = {**self.filters, "join": _join, "replace": _replace}
        self.filters = {name: _metered(all_filters[name]) for name in FILTERS}
        all_tests: dict[str, Any] = {**self.tests}
        self.tests = {name: _metered(all_tests[name]) for name in TESTS}
        self.filters |= {_STEP: _step, _WEIGHED: _weighed, _JOINED: _joined}

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        """Say whether a template may see this: a value that is no method and has no underscore in front."""
        inside = attr.startswith("model_") or isinstance(value, types.ModuleType)
        if inside or not super().is_safe_attribute(obj, attr, value):
            return False
        return not callable(value) or isinstance(value, jinja2.Undefined) or self.is_safe_callable(value)

    def is_safe_callable(self, obj: Any) -> bool:
        """Say whether a template may call this: only what is listed above."""
        if isinstance(obj, Macro | LoopContext | BlockReference) or obj is self.globals["range"]:
            return True
        if isinstance(obj, types.BuiltinMethodType | types.MethodType):
            owner = obj.__self__
            return any(isinstance(owner, kind) and obj.__name__ in names for kind, names in _METHODS)
        return any(obj is given for given in GIVEN.get())

    def unsafe_undefined(self, obj: Any, attribute: str) -> jinja2.Undefined:
        """Give what stands for something that a template may not see: using it is an error."""
        return self.undefined(f'a template may not use "{attribute}" here', name=attribute, obj=obj, exc=SecurityError)

    def call(self, context: Context, obj: Any, /, *args: Any, **kwargs: Any) -> Any:
        """Call what may be called."""
        if not self.is_safe_callable(obj):
            raise SecurityError("a template may not call this")
        METER.get().weigh(args, kwargs, getattr(obj, "__self__", None))
        return context.call(obj, *args, **kwargs)

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        """Reckon with numbers of a usual size, and put texts and lists together that are not too long."""
        del context
        METER.get().weigh(left, right)
        if isinstance(left, str | list | tuple) or isinstance(right, str | list | tuple):
            if operator != "+":
                raise SecurityError(f'"{operator}" is for numbers; texts are put together with "~"')
        elif operator == "**" and not (abs(left) <= 10**6 and abs(right) <= 15):
            raise SecurityError("this number grows too large")
        made = self.binop_table[operator](left, right)
        if isinstance(made, int | float) and abs(made) > _MOST_NUMBER:
            raise SecurityError("this number grows too large")
        return made


class _MeteredGenerator(CodeGenerator):
    """Writes the template's code with the meter in it: at every pass of a loop, every call, every place where text grows."""

    def visit_Template(self, node: nodes.Template, frame: Frame | None = None) -> None:  # noqa: N802 - jinja2's name
        _Metering().visit(node)
        super().visit_Template(node, frame)


Sandbox.code_generator_class = _MeteredGenerator


class _Metering(NodeTransformer):
    """Puts the meter into a template: a step where something can be run through again, a weighing where something can grow."""

    def _body(self, node: Any) -> Any:
        units = _size(node)
        self.generic_visit(node)
        step = nodes.Filter(nodes.Const(units), _STEP, [], [], None, None, lineno=node.lineno)
        node.body = [nodes.ExprStmt(step, lineno=node.lineno), *node.body]
        if isinstance(node, nodes.For) and node.test is not None:
            passed = nodes.Filter(nodes.Const(1), _STEP, [], [], None, None, lineno=node.lineno)
            node.test = nodes.And(passed, node.test, lineno=node.lineno)
        return node

    visit_Template = visit_For = visit_Macro = visit_CallBlock = visit_Block = _body  # noqa: N815 - jinja2's names

    def visit_Concat(self, node: nodes.Concat) -> nodes.Node:  # noqa: N802 - jinja2's name
        self.generic_visit(node)
        texts = nodes.List(node.nodes, lineno=node.lineno)
        return nodes.Filter(texts, _JOINED, [], [], None, None, lineno=node.lineno)

    def visit_Compare(self, node: nodes.Compare) -> nodes.Node:  # noqa: N802 - jinja2's name
        self.generic_visit(node)
        node.expr = _with_weight(node.expr)
        for operand in node.ops:
            operand.expr = _with_weight(operand.expr)
        return node

    def visit_Getitem(self, node: nodes.Getitem) -> nodes.Node:  # noqa: N802 - jinja2's name
        self.generic_visit(node)
        return _with_weight(node) if isinstance(node.arg, nodes.Slice) else node

    def _gathered(self, node: Any) -> nodes.Node:
        self.generic_visit(node)
        return node if getattr(node, "ctx", "load") != "load" else _with_weight(node)

    visit_List = visit_Tuple = visit_Dict = _gathered  # noqa: N815 - jinja2's names


def _with_weight(node: nodes.Expr) -> nodes.Expr:
    if isinstance(node, nodes.Const) or (isinstance(node, nodes.Filter) and node.name == _WEIGHED):
        return node
    return nodes.Filter(node, _WEIGHED, [], [], None, None, lineno=node.lineno)


def _size(node: nodes.Node) -> int:
    """Give what one pass through a part of a template costs at most, without what it calls."""
    parts = characters = 0
    for part in node.find_all(nodes.Node):
        parts += 1
        characters += len(part.data) if isinstance(part, nodes.TemplateData) else 0
    return parts // _NODES + characters // _CHARACTERS


@pass_context
def _step(context: Context, units: int) -> bool:
    del context
    METER.get().charge(units)
    return True


@pass_context
def _weighed(context: Context, value: Any) -> Any:
    del context
    METER.get().weigh(value)
    return value


@pass_context
def _joined(context: Context, texts: list[Any]) -> str:
    METER.get().weigh(texts)
    return markup_join(texts) if context.eval_ctx.autoescape else str_join(texts)


def _metered(made: Callable[..., Any]) -> Callable[..., Any]:
    """Weigh what a filter or a test is given. Taken with the context, so that none runs while a template is compiled."""
    wants = str(getattr(made, "jinja_pass_arg", ""))

    @pass_context
    @wraps(made)
    def run(context: Context, *args: Any, **kwargs: Any) -> Any:
        METER.get().weigh(args, kwargs)
        if "eval_context" in wants:
            return made(context.eval_ctx, *args, **kwargs)
        if "environment" in wants:
            return made(context.environment, *args, **kwargs)
        return made(context, *args, **kwargs) if "context" in wants else made(*args, **kwargs)

    run.jinja_pass_arg = pass_context(lambda: None).jinja_pass_arg  # type: ignore[attr-defined]
    return run


@jinja2.pass_eval_context
def _join(context: EvalContext, value: Any, d: str = "", attribute: str | int | None = None) -> Any:
    """Join members, with what stands between them weighed as often as it stands there."""
    members = list(value)
    METER.get().charge(len(members) * (1 + len(str(d)) // _CHARACTERS))
    METER.get().weigh(members)
    return jinja2.filters.do_join(context, members, d, attribute)


@jinja2.pass_eval_context
def _replace(context: EvalContext, s: Any, old: str, new: str, count: int | None = None) -> Any:
    """Replace in a text, with what is put in weighed as often as it is put in."""
    METER.get().charge((str(s).count(str(old)) * len(str(new))) // _CHARACTERS)
    return jinja2.filters.do_replace(context, str(s), old, new, count)
