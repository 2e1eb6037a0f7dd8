"""One step of the job sheet: its data in step.py, its template in step.html."""
