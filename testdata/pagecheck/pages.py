"""Reads pages back, as text and as HTML, and holds them against what they have to say."""
import re
from xml.parsers import expat

from figures import pattern

NUMBER = re.compile(r"\d+(?:[.,/]\d+)*")
DIRECTION = re.compile(r"\b(?:(?:counter)?clockwise|to the (?:left|right)|left to right|right to left)\b", re.I)


class Wrong(Exception):
    pass


def plain(text):
    return " ".join(text.replace("\u00a0", " ").split())


def follow(where, said, items):
    """Every item is said, in this order, and between them nothing that is a number or a direction."""
    at = 0
    for item in map(plain, items):
        start, end = place_of(item, said, at)
        if start < 0:
            raise Wrong(f"{where}: it doesn't say, where it should: {item}\nit goes on: {said[at:at + 400]}")
        between(where, said[at:start], item)
        at = end
    between(where, said[at:], "the end")


BEFORE, AFTER = re.compile(r"[\w.,/]"), re.compile(r"[\w/]|[.,]\d")


def place_of(item, said, at):
    """Where an item is said next, not as a part of a word or a number."""
    if "\ue000" in item:  # any of some texts
        m = re.compile(r"(?<![\w.,/])" + pattern(item) + r"(?![\w/]|[.,]\d)").search(said, at)
        return m.span() if m else (-1, -1)
    while (start := said.find(item, at)) >= 0:
        end = start + len(item)
        if not (start and BEFORE.match(said, start - 1)) and not AFTER.match(said, end):
            return start, end
        at = start + 1
    return -1, -1


FIGURE = re.compile(r"\d|[½¼¾⅓⅔]")


def between(where, text, before):
    if m := FIGURE.search(text) or DIRECTION.search(text):
        raise Wrong(f"{where}: nobody knows of this, before {before[:60]!r}: …{text[max(0, m.start() - 120):m.end() + 60]}…")


# Text.
def text_pages(text):
    parts = re.split(r"(?m)^={80}\n", text)
    if parts[0]:
        raise Wrong("text before the first page")
    return list(zip(parts[1::2], parts[2::2]))


def unlead(body):
    """The words of the lines: without boxes, signs and room to write."""
    body = re.sub(r"(?m)^   (?:\[ \] |-   |>>> |!!  )", "", body)
    body = re.sub(r"(?m)^ ! ", "", body)
    return plain(re.sub(r"_+", " ", body.replace("[ ]", " ")))


def check_text(sheet, text):
    j, pages = sheet.job, text_pages(text)
    if len(pages) != len(sheet.pages):
        raise Wrong(f"{len(pages)} pages of text, not {len(sheet.pages)}")
    zone = f" ({j['zone']})" if j.get("zone") else ""
    for n, (page, (head, body)) in enumerate(zip(sheet.pages, pages), 1):
        where = f"text, page {n}, {page.code}"
        title = page.title if not page.station else f"STATION {page.station.upper()}: {page.name}"
        if not page.station:
            title = title.upper()
        want = [title, f"job {j['id']}, revision {j['revision']}, planned for {j['date']}{zone}, page {n} of {len(pages)}",
                ", ".join(x for x in (j["machine"], j.get("place")) if x)]
        if plain(head).lower() != plain(" ".join(want)).lower():
            raise Wrong(f"{where}: its head is {plain(head)!r}, not {' '.join(want)!r}")
        said = unlead(body)
        items = [i[1] if isinstance(i, tuple) else i for i in page.items]
        follow(where, said, items)
    return len(NUMBER.findall(text))


# HTML.
class Node:
    def __init__(self, tag, attrs):
        self.tag, self.attrs, self.kids, self.below = tag, dict(attrs), [], None

    def classes(self):
        return (self.attrs.get("class") or "").split()

    def text(self, without=()):
        """Its text, without some of the nodes in it."""
        if any(self is n for n in without):
            return " "
        gap = " " if self.tag in ("p", "div", "section", "h1", "h2", "h3", "td", "th", "tr", "figure", "footer", "header", "text", "title", "desc") else ""
        return gap + "".join(k if isinstance(k, str) else k.text(without) for k in self.kids) + gap

    def all(self, tag=None, cls=None):
        if self.below is None:  # in the order of the page
            self.below = []
            for k in self.kids:
                if isinstance(k, Node):
                    self.below += [k, *k.all()]
        return [k for k in self.below if (tag is None or k.tag == tag) and (cls is None or cls in k.classes())]

    def one(self, tag=None, cls=None):
        found = self.all(tag, cls)
        if len(found) != 1:
            raise Wrong(f"{len(found)} of {tag} {cls}, not one")
        return found[0]


def tree(text):
    """The elements of a page; one that isn't closed is wrong."""
    root = Node("", ())
    path, parser = [root], expat.ParserCreate()
    parser.buffer_text = True

    def start(tag, attrs):
        node = Node(tag, attrs)
        path[-1].kids.append(node)
        path.append(node)
    parser.StartElementHandler, parser.CharacterDataHandler = start, lambda data: path[-1].kids.append(data)
    parser.EndElementHandler = lambda tag: path.pop()
    try:
        parser.Parse(re.sub(r"(<meta [^>]*)>", r"\1/>", re.sub(r"(?s)<style>.*?</style>", "", text)), True)
    except expat.ExpatError as e:
        raise Wrong(f"HTML: {e}") from e
    return root


def equal(where, said, want):
    said_, want_ = plain(said), plain(want)
    if said_ != want_ and not ("\ue000" in want_ and re.fullmatch(pattern(want_), said_)):
        raise Wrong(f"{where}: it says {plain(said)!r}, not {plain(want)!r}")


def check_html(sheet, root, check_picture):
    j = sheet.job
    title = f"Fuel filter service, job {j['id']}, revision {j['revision']}"
    head, main = root.one("head"), root.one("main")
    equal("title", head.one("title").text(), title)
    h1 = main.one("h1")
    equal("h1", h1.text(), title)
    pages = list(main.all("section", "page"))
    if len(pages) != len(sheet.pages):
        raise Wrong(f"{len(pages)} pages of HTML, not {len(sheet.pages)}")
    between("HTML outside of the pages", main.text([h1] + pages), "its end")
    machine = ", ".join(x for x in (j["machine"], j.get("place")) if x)
    zone = f" ({j['zone']})" if j.get("zone") else ""
    for n, (page, node) in enumerate(zip(sheet.pages, pages), 1):
        where = f"HTML, page {n}, {page.code}"
        if f"{page.code}-page" not in node.classes() or node.attrs["id"] != f"page-{n}":
            raise Wrong(f"{where}: it is another page")
        header = node.one("header")
        of = f"{machine} · job {j['id']}, revision {j['revision']} · {j['date']}{zone}"
        equal(f"{where}, head", header.text(), f"{page.station or ''} {page.title} {of} {n} of {len(pages)}")
        if header.one("time").attrs["datetime"] != j["date"]:
            raise Wrong(f"{where}: another date for machines")
        keys, aside = list(node.all("div", "key")), [header]
        if bool(keys) != bool(page.figures):
            raise Wrong(f"{where}: {len(keys)} figures for a narrow screen, and {page.figures}")
        for key in keys:
            equal(f"{where}, for a narrow screen", key.text(), " ".join(page.figures))
            aside.append(key)
        figures = list(node.all("figure"))
        if len(figures) != (1 if page.picture else 0):
            raise Wrong(f"{where}: {len(figures)} pictures where {1 if page.picture else 0} are due")
        for figure in figures:
            check_picture(f"{where}, picture", figure.one("svg"), page.picture)
            aside.append(figure)
        tables = list(node.all("table"))
        check_tables(where, tables, page.table)
        rows = [i for i in page.items if not isinstance(i, tuple)]
        follow(where, plain(node.text(aside + tables)), rows)
    return len(NUMBER.findall(main.text()))


def check_tables(where, tables, want):
    if not want:
        if tables:
            raise Wrong(f"{where}: tables that nobody asked for")
        return
    got = [[[plain(c.text()) for c in r.all() if c.tag in ("td", "th")] for r in t.all("tr")] for t in tables]
    due = [[["touched at", "stop at", "never past"]] + [list(r) for r in want[::2]],
           [["touched between", "stop at", "never past"]] + [list(r) for r in want[1::2]]]
    if got != due:
        raise Wrong(f"{where}: its tables are {got}, not {due}")
