"""`python -m clothwise` is the command line."""

from clothwise.cli import main

if __name__ == "__main__":
    main()
