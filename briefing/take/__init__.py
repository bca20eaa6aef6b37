"""After the recording: reading timed transcripts, the speaking pace learned from them, the take held against the plan."""
