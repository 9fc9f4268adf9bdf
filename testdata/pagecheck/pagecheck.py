"""Recomputes every number and every direction on every page of every job, and reads every picture back; then what is kept of the job
when it is done, of readings by chance, and says; and those of PAGECHECK_JOBS jobs with other figures, by chance from PAGECHECK_SEED. Its argument is
the program that prints the pages. A number that it can't account for is as wrong as one that it computes otherwise."""
import json
import os
import subprocess
import sys

import jobs
from expect import Sheet
from forms import check_ascii, check_json, check_spanish
from pages import Wrong, check_html, check_text, tree
from pictures import check_picture
from records import check_record, check_words
from review import Review


def check_pages(sheet, en, es):
    en["tree"], es["tree"] = (tree(form["html"]) for form in (en, es))
    numbers = check_text(sheet, en["text"]) + check_html(sheet, en["tree"], check_picture) + check_spanish(sheet, en, es)
    for lang, form in (("en", en), ("es", es)):
        numbers += check_ascii(form["text"], form["ascii"]) + check_json(sheet, form, form["json"], lang)
    return numbers


def ask(questions):
    """The printer's answers."""
    text = "\n".join(map(json.dumps, questions))
    return map(json.loads, subprocess.run([sys.argv[1]], input=text, capture_output=True, encoding="utf-8", check=True).stdout.splitlines())


def main():
    seed, n = os.environ.get("PAGECHECK_SEED", "20261127"), int(os.environ.get("PAGECHECK_JOBS", "60"))
    print(f"PAGECHECK_SEED={seed} PAGECHECK_JOBS={n}")
    found, wrong, refused, numbers = jobs.every(), 0, 0, 0
    whole = len(found)
    found += list(jobs.by_chance(found, seed, n))
    questions = [{k: v for k, v in zip(("job", "rules", "machine"), (over, rules, card)) if v is not None} for _, _, rules, card, over in found]
    done = []  # a name, a sheet, readings and the question about them
    for i, ((name, job, rules, _, _), question, answer) in enumerate(zip(found, questions, ask(questions), strict=True)):
        if "error" in answer and i >= whole:
            refused += 1
            continue
        try:
            if "error" in answer:
                raise Wrong(f"refused: {answer['error']}")
            sheet = Sheet(job, rules)
            numbers += check_pages(sheet, **answer["pages"])
        except Wrong as e:
            wrong += 1
            print(f"FAIL: {name}{' by rules' if rules else ''}: {e}")
            continue
        if rules:
            readings = jobs.done(sheet, f"{seed}/{i}")
            done.append((name, sheet, readings, question | {"done": readings}))
    unread = 0
    for (name, sheet, readings, _), answer in zip(done, ask([d[3] for d in done]), strict=True):
        if "error" in answer:
            unread += 1
            if os.environ.get("PAGECHECK_REFUSED"):
                print(f"{name}: {answer['error']}")
            continue
        try:
            review = Review(sheet, readings, json.loads(answer["record"]).get("wasteRules"))
            count, record = check_record(sheet, review, readings, answer["record"])
            numbers += count + check_words(sheet, record, answer["words"])
        except Wrong as e:
            wrong += 1
            print(f"FAIL: {name}, done: {e}")
    print(f"{whole} jobs and {n - refused} by chance ({refused} refused), {len(done) - unread} records of them ({unread} readings refused), "
          f"{numbers} numbers on their pages: {wrong} wrong")
    sys.exit(wrong > 0 or 2 * refused > n or 4 * unread > len(done))


if __name__ == "__main__":
    main()
