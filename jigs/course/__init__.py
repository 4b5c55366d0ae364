"""A class: the list of students and the teacher's plan."""
