"""``python -m storystick``: the command line."""

from storystick.cli import main

if __name__ == "__main__":
    main(prog_name="storystick")
