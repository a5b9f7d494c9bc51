"""Files out: plan files, workbooks, cards and pages."""
