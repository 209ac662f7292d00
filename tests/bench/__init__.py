"""How fast it is: `python -m tests.bench` prints ratios measured in one run; nothing here passes or fails."""
