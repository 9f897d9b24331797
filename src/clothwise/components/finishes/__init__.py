"""What is done to seams and pieces that are there already: finishes, topstitching, fusing."""
