"""A small book for the checks of what a printing house gets, and how its PDF is read back by pikepdf."""

from __future__ import annotations

import io
from collections.abc import Iterator
from pathlib import Path

import pikepdf

from typeset import pipeline
from typeset.built import Run
from typeset.pdf.output import AS_BOOK, Output

MM = 72 / 25.4

BOOK = """\
title: Two Doors
subtitle: A book to be bound & cut <once>
author: Lantern Yard Studio
edition: First edition
date: 2026-09-01
language: en
style: {style}
chapters: [first.yaml]
front: [title-page, imprint, contents, how-to-read, drum-key, care]
back: [practice-log, index]
"""

CHAPTER = """\
chapter: First steps
intro: |
  Five strokes, [one limb at a time](https://lantern-yard.example/slow).
sequences: {stairs: R L R K L}
exercises:
  - id: plain
    title: On one surface
    start: stairs
    steps: [{fit: {bars: 1, by: trimming}}]
  - id: groove
    title: As a groove
    start: plain
    steps: [{voice: {R: hi-hat, L: snare, K: kick}}, {accent: [1, "3&"]}, {ghost: {sound: snare}}]
"""


def built_in(folder: Path, style: str, output: Output = AS_BOOK, *, own_style: str = "") -> bytes:
    """The small book in a style; `own_style` is the text of one that lies beside it, as `own`."""
    folder.mkdir(exist_ok=True)
    (folder / "book.yaml").write_text(BOOK.format(style=style))
    (folder / "first.yaml").write_text(CHAPTER)
    if own_style:
        (folder / "own.yaml").write_text(own_style)
    return pipeline.make(folder, None, Run(jobs=1), output)[0].pdf


def opened(pdf: bytes) -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(pdf))


def reached(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Object]:
    """Every dictionary and stream that the catalog leads to, each once."""
    seen: set[tuple[int, int]] = set()
    waiting: list[pikepdf.Object] = [pdf.Root, pdf.trailer.Info]
    while waiting:
        thing = waiting.pop()
        if thing.is_indirect:
            if thing.objgen in seen:
                continue
            seen.add(thing.objgen)
        if isinstance(thing, pikepdf.Dictionary | pikepdf.Stream):
            yield thing
            waiting += [value for _, value in thing.items() if isinstance(value, pikepdf.Object)]
        elif isinstance(thing, pikepdf.Array):
            waiting += [value for value in thing if isinstance(value, pikepdf.Object)]  # type: ignore[attr-defined]


def drawings(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Page | pikepdf.Object]:
    """Everything that has operators: the pages, and the forms they show."""
    yield from pdf.pages
    for thing in reached(pdf):
        if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Form":
            yield thing


def instructions(pdf: pikepdf.Pdf) -> Iterator[tuple[str, list[object]]]:
    """Every operator that draws something, with its operands."""
    for drawing in drawings(pdf):
        for one in pikepdf.parse_content_stream(drawing):
            yield str(one.operator), list(one.operands)


def fonts_of(pdf: pikepdf.Pdf) -> list[pikepdf.Object]:
    return [one for one in reached(pdf) if one.get("/Type") == "/Font" and one.get("/Subtype") != "/Type0"]


def box(values: object) -> list[float]:
    return [float(side) for side in values]  # type: ignore[attr-defined]
