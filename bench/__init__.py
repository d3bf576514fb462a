"""What the program costs, each figure beside a floor measured in the same run. `make bench` prints the table."""
