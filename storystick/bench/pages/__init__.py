"""What the server answers: the first page, new jobs, the page of a job, and saving."""
