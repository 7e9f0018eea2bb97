"""What the W3C published of web annotations, as facts.

Sources: Web Annotation Vocabulary, W3C Recommendation of 2017-02-23, appendix A (the JSON-LD context, published at
http://www.w3.org/ns/anno.jsonld) and section 2.2 (motivations); Web Annotation Data Model of the same day. The terms
are those that are needed here, told from memory of these documents: each with the IRI that it stands for, and how its
values are read.
"""

from __future__ import annotations

from typing import Any

CONTEXT_IRI = "http://www.w3.org/ns/anno.jsonld"
OA = "http://www.w3.org/ns/oa#"
PREFIXES = {
    "oa": OA,
    "dc": "http://purl.org/dc/elements/1.1/",
    "dcterms": "http://purl.org/dc/terms/",
    "dctypes": "http://purl.org/dc/dcmitype/",
    "foaf": "http://xmlns.com/foaf/0.1/",
    "rdf": "http://www.w3.org/1999/02/22-rdf-syntax-ns#",
    "rdfs": "http://www.w3.org/2000/01/rdf-schema#",
    "xsd": "http://www.w3.org/2001/XMLSchema#",
    "as": "http://www.w3.org/ns/activitystreams#",
    "schema": "http://schema.org/",
}
MOTIVATIONS = [
    *("assessing", "bookmarking", "classifying", "commenting", "describing", "editing", "highlighting"),
    *("identifying", "linking", "moderating", "questioning", "replying", "tagging"),
]
CLASSES = {
    "Annotation": "oa:Annotation",
    "SpecificResource": "oa:SpecificResource",
    "TextualBody": "oa:TextualBody",
    "TextQuoteSelector": "oa:TextQuoteSelector",
    "TextPositionSelector": "oa:TextPositionSelector",
    "Text": "dctypes:Text",
    "Person": "foaf:Person",
    "Software": "as:Application",
    "Audience": "schema:Audience",
    "AnnotationCollection": "as:OrderedCollection",
    "AnnotationPage": "as:OrderedCollectionPage",
}
OF_THINGS = {
    "body": "oa:hasBody",
    "target": "oa:hasTarget",
    "source": "oa:hasSource",
    "selector": "oa:hasSelector",
    "creator": "dcterms:creator",
    "generator": "as:generator",
    "audience": "schema:audience",
    "partOf": "as:partOf",
    "first": "as:first",
}
OF_WORDS = {
    "value": "rdf:value",
    "format": "dc:format",
    "language": "dc:language",
    "name": "foaf:name",
    "label": "rdfs:label",
    "exact": "oa:exact",
    "prefix": "oa:prefix",
    "suffix": "oa:suffix",
}
TYPED = {
    "created": ("dcterms:created", "xsd:dateTime"),
    "modified": ("dcterms:modified", "xsd:dateTime"),
    "start": ("oa:start", "xsd:nonNegativeInteger"),
    "end": ("oa:end", "xsd:nonNegativeInteger"),
    "total": ("as:totalItems", "xsd:nonNegativeInteger"),
    "startIndex": ("as:startIndex", "xsd:nonNegativeInteger"),
}
CONTEXT: dict[str, Any] = {
    **PREFIXES,
    "id": {"@id": "@id", "@type": "@id"},
    "type": {"@id": "@type", "@type": "@id"},
    **CLASSES,
    **{word: f"oa:{word}" for word in MOTIVATIONS},
    **{name: {"@id": iri, "@type": "@id"} for name, iri in OF_THINGS.items()},
    **OF_WORDS,
    **{name: {"@id": iri, "@type": kind} for name, (iri, kind) in TYPED.items()},
    "items": {"@id": "as:items", "@type": "@id", "@container": "@list"},
    "motivation": {"@id": "oa:motivatedBy", "@type": "@vocab"},
    "purpose": {"@id": "oa:hasPurpose", "@type": "@vocab"},
}
