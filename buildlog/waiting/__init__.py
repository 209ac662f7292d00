"""What the engine waits for: worked out from what happened, never typed.

`facts` loads what happened, `counting` counts each casting, `sharing` gives what is on hand to the parts
that want it, `following` follows it through the build; `standing` asks all four for a build.
"""
