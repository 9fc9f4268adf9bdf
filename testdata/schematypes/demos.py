"""The demonstration files in the generated types: python3 demos.py top NAME | typescript DIR | python DIR."""

import importlib
import json
import re
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent

# A schema's file, the type at its root, the files of that form, and edits after which a file isn't one.
FORMS = {
    "job": ("Job", ["examples/servicesheet/demo.json", "service/testdata/bench.json", "service/testdata/jobs/*.json"],
            [('"suction"', '"sucking"'), ('"fuel": {', '"fuels": {'), ('"revision": 1', '"revision": "1"'),
             ('"torque": "', '"torques": "')]),
    "machine": ("JobPart", ["examples/servicesheet/demo-[mj]*.json", "service/testdata/machine.json"], [('"version": 1', '"version": 2')]),
    "asdone": ("AsDone", ["service/testdata/asdone.json"], [('"stations"', '"station"')]),
    "rules": ("Rules", ["service/testdata/rules.json", "examples/servicesheet/demo-rules.json"], [('"guarded by U"', '"guarded"')]),
    "record": ("Record", ["service/testdata/record*.json"], [('"verdict":"pass"', '"verdict":"good"')]),
    "sheet": ("Sheet", ["examples/servicesheet/testdata/demo.json"], [('"pages"', '"leaves"')]),
}


def files(form):
    found = [path for pattern in FORMS[form][1] for path in sorted(ROOT.glob(pattern))]
    if len(found) < len(FORMS[form][1]):
        sys.exit(f"FAIL: no files of {form}")
    return found


def typescript(directory):
    """Writes a program that holds each file as a constant of its type, and each edited one where tsc expects an error."""
    for form, (top, _, edits) in FORMS.items():
        lines, used = [f'import type {{ {top} }} from "./{form}.js";'], set()
        for i, path in enumerate(files(form)):
            text = path.read_text(encoding="utf-8")
            lines.append(f"export const demo{i}: {top} = {text.strip()};")
            for old, new in edits:
                if old in text:
                    used.add(old)
                    # On one line, so that the error is on the next line, wherever in the file it is.
                    one = re.sub(r"\s*\n\s*", " ", text.replace(old, new, 1).strip())
                    lines.append(f"// @ts-expect-error\nexport const wrong{len(lines)}: {top} = {one};")
        if len(used) < len(edits):
            sys.exit(f"FAIL: an edit of {form} fits no file")
        Path(directory, f"demo-{form}.ts").write_text("\n".join(lines), encoding="utf-8")


def python(directory):
    sys.path.insert(0, directory)
    for form, (top, _, _) in FORMS.items():
        module = importlib.import_module(form)
        snake = re.sub(r"(?<!^)(?=[A-Z])", "_", top).lower()
        for path in files(form):
            document = json.loads(path.read_text(encoding="utf-8"))
            back = getattr(module, snake + "_to_dict")(getattr(module, snake + "_from_dict")(document))
            if back != document:
                sys.exit(f"FAIL: {path} comes back another from Python")
            print(f"{path.name}: loaded by Python and written back equal")


if sys.argv[1] == "top":
    print(FORMS[sys.argv[2]][0])
else:
    {"typescript": typescript, "python": python}[sys.argv[1]](sys.argv[2])
