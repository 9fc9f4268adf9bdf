"""How the programs of this folder are asked: a question a line, as JSON, with the library's answer in it."""
import json
import sys


def answer(checks):
    """Checks each question with the function for the test that the command line names. It says how many agree, or the
    first that doesn't and what it should be."""
    check = checks[sys.argv[1]]
    agree = 0
    for line in sys.stdin:
        said = check(json.loads(line))
        if said is not None:
            print(f"after {agree}: {line.strip()}\nit should be {said}")
            sys.exit(1)
        agree += 1
    print(f"{agree} agree")
