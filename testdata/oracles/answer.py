"""How the programs of this folder are asked: a question a line, as JSON, with the library's answer in it."""
import json
import sys


def answer(checks):
    """Checks each question with the function for the test that the command line names. It says how many agree, or the
    first that doesn't and what it should be; with "each" behind the name it says of every one whether it agrees."""
    check, each = checks[sys.argv[1]], sys.argv[2:] == ["each"]
    agree = 0
    for line in sys.stdin:
        said = check(json.loads(line))
        if each:
            print("agrees" if said is None else "differs")
        elif said is not None:
            print(f"after {agree}: {line.strip()}\nit should be {said}")
            sys.exit(1)
        agree += 1
    if not each:
        print(f"{agree} agree")
