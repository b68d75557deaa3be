"""Adds to a package what an office and an engineer add, as another program does: `seal.py HOW IN OUT`.

stamp    a stamp on the first page, put behind what is there
sign     a signature field with a value, put behind
words    other words on the first page, put behind
swap     another posts.csv in the place of the one that is carried, put behind
anew     the whole file saved anew
"""

import sys

from pypdf import PdfReader, PdfWriter
from pypdf.annotations import FreeText
from pypdf.generic import (
    ArrayObject,
    ByteStringObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    NumberObject,
    TextStringObject,
)


def stamp(writer):
    writer.add_annotation(0, FreeText(text="REVIEWED", rect=(60, 200, 200, 260)))


def sign(writer):
    value = writer._add_object(
        DictionaryObject(
            {
                NameObject("/Type"): NameObject("/Sig"),
                NameObject("/Filter"): NameObject("/Adobe.PPKLite"),
                NameObject("/Name"): TextStringObject("E. Engineer, P.E."),
                NameObject("/Contents"): ByteStringObject(bytes(64)),
            }
        )
    )
    field = writer._add_object(
        DictionaryObject(
            {
                NameObject("/Type"): NameObject("/Annot"),
                NameObject("/Subtype"): NameObject("/Widget"),
                NameObject("/FT"): NameObject("/Sig"),
                NameObject("/T"): TextStringObject("Seal of an engineer"),
                NameObject("/V"): value,
                NameObject("/Rect"): ArrayObject(FloatObject(it) for it in (320, 60, 560, 260)),
            }
        )
    )
    page = writer.pages[0]
    page[NameObject("/Annots")] = ArrayObject([*page.get("/Annots", []), field])
    fields = DictionaryObject({NameObject("/Fields"): ArrayObject([field]), NameObject("/SigFlags"): NumberObject(3)})
    writer._root_object[NameObject("/AcroForm")] = fields


def words(writer):
    page = writer.pages[0]
    stream = DecodedStreamObject()
    stream.set_data(b"BT /F0 12 Tf 72 500 Td (All limits are met.) Tj ET")
    page[NameObject("/Contents")] = ArrayObject([page.raw_get("/Contents"), writer._add_object(stream)])


def swap(writer):
    names = writer._root_object["/Names"]["/EmbeddedFiles"]["/Names"]
    specification = names[names.index("job/posts.csv") + 1].get_object()
    old = specification["/EF"]["/F"].get_object()
    stream = DecodedStreamObject()
    stream.set_data(old.get_data().replace(b",0.61,", b",0.51,"))
    specification["/EF"][NameObject("/F")] = writer._add_object(stream)


how, source, target = sys.argv[1:]
if how == "anew":
    writer = PdfWriter(clone_from=source)
else:
    writer = PdfWriter(fileobj=PdfReader(source), incremental=True)
    {"stamp": stamp, "sign": sign, "words": words, "swap": swap}[how](writer)
writer.write(target)
