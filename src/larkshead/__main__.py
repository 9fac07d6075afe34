"""The command line's entry point."""


def main() -> None:
    """Run the command line."""
    from larkshead.cli.main import run

    run()


if __name__ == "__main__":
    main()
