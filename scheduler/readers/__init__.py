"""Files in: workbooks, lists and plan files become events and plans, or a list of faults."""
