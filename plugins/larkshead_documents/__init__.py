"""Documents that hold the text of a pattern among other things: web pages and word-processor files."""

from __future__ import annotations

from larkshead.host import DocumentSpec, hookimpl


@hookimpl
def larkshead_documents() -> list[DocumentSpec]:
    """Web pages with what Python brings; word-processor documents where the libraries for them are installed."""
    return [
        DocumentSpec(
            "html",
            "web page",
            (".html", ".htm", ".xhtml"),
            recogniser="larkshead_documents.recognise:is_web_page",
            extractor="larkshead_documents.html:text_of",
        ),
        DocumentSpec(
            "docx",
            "Word document",
            (".docx",),
            recogniser="larkshead_documents.recognise:is_word",
            extractor="larkshead_documents.word:text_of",
            extra="documents",
        ),
        DocumentSpec(
            "odt",
            "OpenDocument text",
            (".odt",),
            recogniser="larkshead_documents.recognise:is_opendocument",
            extractor="larkshead_documents.opendocument:text_of",
            extra="documents",
        ),
    ]
