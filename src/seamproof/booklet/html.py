"""A booklet as one HTML page that holds everything it shows: pictures as SVG, fonts, no script."""

from __future__ import annotations

import base64
import re
from collections.abc import Callable, Iterator
from html import escape
from pathlib import Path
from typing import Any

from seamproof.booklet.model import BookletModel, Edition
from seamproof.booklet.printing import book_data

_HERE = Path(__file__).parent

_FACES = (
    ("Atkinson Hyperlegible Next", 400, "normal", "AtkinsonHyperlegibleNext-400"),
    ("Atkinson Hyperlegible Next", 600, "normal", "AtkinsonHyperlegibleNext-600"),
    ("Atkinson Hyperlegible Next", 700, "normal", "AtkinsonHyperlegibleNext-700"),
    ("Literata", 400, "normal", "Literata-400"),
    ("Literata", 500, "normal", "Literata-500"),
    ("Literata", 400, "italic", "Literata-400-italic"),
)
"""The fonts of the package: family, weight, style, file."""

_NUMBER = re.compile(r"(?:(\d+)[ \u2009\u202f\u00a0])?\b(\d{1,3})/(\d{1,3})\b")


def write_page(model: BookletModel, edition: Edition) -> str:
    """The booklet as one page. Two calls give the same text."""
    data = book_data(model, edition)
    size = 18 if edition.large else 12
    body = "\n".join(_body(data))
    return (
        "<!doctype html>\n"
        '<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(data['title'])}</title>\n"
        f"<style>\n{''.join(_fonts())}{_style(size)}</style>\n</head>\n"
        f"<body>\n{body}\n</body>\n</html>\n"
    )


def _style(size: int) -> str:
    sheet = (_HERE / "styles" / "booklet.css").read_text("utf-8")
    return sheet.replace("/*size*/", f"{size}pt")


def _fonts() -> Iterator[str]:
    for family, weight, style, name in _FACES:
        data = base64.b64encode((_HERE / "fonts" / f"{name}.ttf").read_bytes()).decode("ascii")
        yield (
            f'@font-face{{font-family:"{family}";font-weight:{weight};font-style:{style};'
            f"src:url(data:font/ttf;base64,{data})}}\n"
        )


def _body(data: dict[str, Any]) -> Iterator[str]:
    cover = data["cover"]
    yield "<header>"
    if cover is not None:
        yield f"<p class=above>{_text(cover['above'])}</p>"
    yield f"<h1>{_text(data['title'])}</h1>"
    if cover is not None:
        if cover["below"]:
            yield f"<p class=below>{_text(cover['below'])}</p>"
        yield _facts(cover)
        shown = cover["photo"] or cover["picture"]
        yield "<div class=front>" + _figure(shown)
        yield "<div class=aside>" + _paragraphs(cover["aside"]) + "</div></div>"
    yield "</header>"
    yield "<nav aria-label=Contents><ol>"
    for section in data["sections"]:
        yield f'<li><a href="#{_id(section)}">{_text(section["title"])}</a></li>'
    yield "</ol></nav>\n<main>"
    for section in data["sections"]:
        yield f'<section id="{_id(section)}">\n<h2>{_text(section["title"])}</h2>'
        if section["lead"]:
            yield f"<p class=lead>{_text(section['lead'])}</p>"
        for part in section["parts"]:
            yield _PARTS[part["kind"]](part, data)
        yield "</section>"
    yield "</main>"


def _id(section: dict[str, Any]) -> str:
    return escape(section["key"].replace(":", "-"))


def _text(text: str) -> str:
    """Text with its fractions built."""

    def built(found: re.Match[str]) -> str:
        whole = f"{found[1]}\u2009" if found[1] else ""
        return f"<span class=n>{whole}<sup>{found[2]}</sup>\u2044<sub>{found[3]}</sub></span>"

    return _NUMBER.sub(built, escape(text, quote=False))


def _paragraphs(texts: list[str]) -> str:
    return "".join(f"<p>{_text(text)}</p>" for text in texts)


def _figure(it: dict[str, Any]) -> str:
    svg = it["figure"]["svg"]
    caption = f"<figcaption>{_text(it['caption'])}</figcaption>" if it.get("caption") else ""
    return f"<figure>{svg}{caption}</figure>"


def _facts(it: dict[str, Any]) -> str:
    rows = (
        f"<div><dt>{_text(f['name'])}</dt><dd>{_text(f['text'])}</dd></div>" for f in it["facts"]
    )
    return f"<dl class=facts>{''.join(rows)}</dl>"


def _words(it: dict[str, Any], _: dict[str, Any]) -> str:
    name = "small" if it["small"] else "words"
    return f"<div class={name}>{_paragraphs(it['paragraphs'])}</div>"


def _table(it: dict[str, Any], _: dict[str, Any]) -> str:
    right = set(it["right"])

    def place(i: int) -> str:
        return " class=r" if i in right else ""

    swatched = bool(it["swatches"])
    head = "<th><span class=hidden>Swatch</span></th>" if swatched else ""
    head += "".join(
        f"<th scope=col{place(i)}>{_text(name)}</th>" for i, name in enumerate(it["columns"])
    )
    rows = []
    for n, row in enumerate(it["rows"]):
        swatch = ""
        if swatched:
            shown = it["swatches"][n]
            swatch = f"<td>{shown['svg'] if shown else ''}</td>"
        cells = "".join(f"<td{place(i)}>{_text(cell)}</td>" for i, cell in enumerate(row))
        rows.append(f"<tr>{swatch}{cells}</tr>")
    return f"<table><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>"


def _key(it: dict[str, Any], _: dict[str, Any]) -> str:
    rows = "".join(
        f"<tr><td>{row['swatch']['svg']}</td><th scope=row>{row['letter']}</th>"
        f"<td>{_text(row['name'])}</td><td>{_text(row['value'])}</td></tr>"
        for row in it["fabrics"]
    )
    return f"<table class=key><caption>{_text(it['title'])}</caption><tbody>{rows}</tbody></table>"


def _front(it: dict[str, Any], data: dict[str, Any]) -> str:
    return f"<div class=front>{_figure(it['picture'])}{_key(it, data)}</div>"


def _cutting(it: dict[str, Any], data: dict[str, Any]) -> str:
    rows = []
    for table in it["tables"]:
        for n, row in enumerate(table["rows"]):
            fabric = ""
            if n == 0:
                fabric = (
                    f"<th scope=rowgroup rowspan={len(table['rows'])}>{table['swatch']['svg']} "
                    f"{table['letter']} {_text(table['name'])}</th>"
                )
            what = f"<b>{_text(row['what'])}</b>" if row["letter"] else _text(row["what"])
            split = f", {_text(row['split'])}" if row["split"] else ""
            under = " class=under" if row["under"] else ""
            rows.append(
                f"<tr>{fabric}<td><b>{row['letter']}</b></td><td class=r>{row['count'] or ''}</td>"
                f"<td{under}>{what}{split}</td><td>{_text(row['purpose'])}</td></tr>"
            )
    head = "".join(f"<th scope=col>{_text(name)}</th>" for name in data["headings"])
    return (
        f"<table class=cutting><thead><tr>{head}</tr></thead><tbody>{''.join(rows)}</tbody></table>"
    )


def _cautions(it: dict[str, Any], _: dict[str, Any]) -> str:
    return (
        "<div class=cautions>"
        + "".join(
            f"<p class=caution><b>{_text(c['title'])}</b><br>{_text(c['text'])}</p>"
            for c in it["cautions"]
        )
        + "</div>"
    )


def _notes(it: dict[str, Any], _: dict[str, Any]) -> str:
    notes = [*it["first"], *it["second"]]
    if not notes:
        return ""
    told = "".join(
        f"<li{' class=grave' if n['grave'] else ''}>{_text(n['text'])} {_text(n['mend'])}</li>"
        for n in notes
    )
    return f"<h3>{_text(it['title'])}</h3><ul class=notes>{told}</ul>"


def _templates(it: dict[str, Any], _: dict[str, Any]) -> str:
    return "".join(
        f"<figure><figcaption>{_text(t['title'])}</figcaption>"
        f"{t['figure']['svg'] if t['figure'] else ''}</figure>"
        for t in it["templates"]
    )


def _help(it: dict[str, Any], _: dict[str, Any]) -> str:
    columns = "".join(
        f"<div><h4>{_text(c['title'])}</h4>{_paragraphs(c['texts'])}</div>" for c in it["columns"]
    )
    return f"<h3>{_text(it['title'])}</h3><div class=columns>{columns}</div>"


def _heading(it: dict[str, Any], _: dict[str, Any]) -> str:
    lead = f"<p class=lead>{_text(it['lead'])}</p>" if it["lead"] else ""
    return f"<h3>{_text(it['title'])}</h3>{lead}"


def _listed(it: dict[str, Any], _: dict[str, Any]) -> str:
    return "<ol>" + "".join(f"<li>{_text(item)}</li>" for item in it["items"]) + "</ol>"


def _shown(some: list[dict[str, Any]]) -> str:
    return (
        "<div class=shown>"
        + "".join(f"<div>{v['figure']['svg']}<p>{_text(v['text'])}</p></div>" for v in some)
        + "</div>"
    )


def _chapter(it: dict[str, Any], _: dict[str, Any]) -> str:
    anchor = f' id="recipe-{it["recipe"]}"' if it["recipe"] else ""
    told = [f"<h3{anchor}>{_text(it['title'])}</h3><p class=lead>{_text(it['lead'])}</p>"]
    if it["by"]:
        told.append(f'<p><a href="#recipe-{it["by"]}">{_text(it["by-says"])}</a></p>')
    told += [_shown(some) for some in (it["variants"], it["signs"]) if some]
    for row in it["rows"]:
        steps = []
        for step in row:
            begins = f"<p class=set>{_text(step['begins'])}</p>" if step["begins"] else ""
            measure = f"<p class=measure>{_text(step['measure'])}</p>" if step["measure"] else ""
            sewn = step["sewn"]["svg"] if step["sewn"] else ""
            steps.append(
                f"<div class=step>{begins}<p><span class=number>{step['number']}</span> "
                f"{_text(step['text'])}</p>{measure}{step['figure']['svg']}{sewn}</div>"
            )
        told.append(f"<div class=columns>{''.join(steps)}</div>")
    told += [
        f"<p><span class=number>{line['number']}</span> {_text(line['text'])} "
        f"<b>{_text(line['measure'])}</b></p>"
        for line in it["lines"]
    ]
    return "\n".join(told)


def _turned(it: dict[str, Any], _: dict[str, Any]) -> str:
    reasons = [text for some in it["reasons"] for text in some]
    return (
        f"<h3>{_text(it['title'])}</h3><div class=front>"
        f"<figure>{it['back']['svg']}<figcaption>{_text(it['back-says'])}</figcaption></figure>"
        f"<div><p class=big><b>{it['layers']}</b> {_text(it['layers-say'])}</p>"
        f"<figure>{it['close']['svg']}<figcaption>{_text(it['close-says'])}</figcaption></figure>"
        f"{it['scale']['svg']}{_paragraphs(it['said'])}</div></div>"
        f"<div class=small>{_paragraphs(reasons)}</div>"
    )


def _pictures(it: dict[str, Any], _: dict[str, Any]) -> str:
    return "<div class=columns>" + "".join(map(_figure, it["pictures"])) + "</div>"


def _beside(it: dict[str, Any], data: dict[str, Any]) -> str:
    return f"<div class=front>{_figure(it['picture'])}{_table(it['table'], data)}</div>"


_PARTS: dict[str, Callable[[dict[str, Any], dict[str, Any]], str]] = {
    "words": _words,
    "facts": lambda it, _: _facts(it),
    "table": _table,
    "picture": lambda it, _: _figure(it),
    "pictures": _pictures,
    "beside": _beside,
    "key": _key,
    "front": _front,
    "cutting": _cutting,
    "cautions": _cautions,
    "notes": _notes,
    "templates": _templates,
    "help": _help,
    "heading": _heading,
    "listed": _listed,
    "chapter": _chapter,
    "turned": _turned,
}
