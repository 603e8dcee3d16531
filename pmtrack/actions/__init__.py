"""What each user does, one function a deed: load what is needed, ask the rules, keep the facts."""
