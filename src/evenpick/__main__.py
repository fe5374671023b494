"""`python -m evenpick` is the same as `evenpick`."""

from evenpick.cli.main import main

main()
