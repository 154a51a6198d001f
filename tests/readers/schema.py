"""Validity against the MusicXML 4.0 schema, whose text comes inside the PyPI package `musicxml`. Nothing is fetched."""

import importlib.util
from functools import cache
from pathlib import Path

from lxml import etree

STUBS = Path(__file__).parent / "xsd"
PARSER = etree.XMLParser(no_network=True, load_dtd=False, resolve_entities=False)


class Imports(etree.Resolver):
    """Answers the schema's two imports from the stubs beside this file."""

    def resolve(self, url, _public_id, context):
        for name in ("xlink.xsd", "xml.xsd"):
            if url and url.rsplit("/", 1)[-1] == name:
                return self.resolve_filename(str(STUBS / name), context)
        return None


@cache
def schema():
    package = Path(importlib.util.find_spec("musicxml").origin).parent
    parser = etree.XMLParser(no_network=True, load_dtd=False)
    parser.resolvers.add(Imports())
    return etree.XMLSchema(etree.parse(str(package / "generate_classes" / "musicxml_4_0.xsd"), parser))


def faults(data: bytes) -> list[str]:
    """What the schema has against a document."""
    root = etree.fromstring(data, PARSER)
    if schema().validate(root):
        return []
    return [f"line {error.line}: {error.message}" for error in schema().error_log]
