"""Reads a page as a browser would: its tags, where they lead, its words."""

from html.parser import HTMLParser

NEVER_CLOSED = {"meta", "br", "img", "link", "input", "hr"}


class Page(HTMLParser):
    """What a reader of a page meets; its tags close in order."""

    def __init__(self, page):
        """Read the page."""
        super().__init__()
        self.tags, self.addresses, self.data, self.open = [], [], [], []
        self.feed(page)
        assert self.open == []

    def handle_starttag(self, tag, attrs):
        """Keep the tag and every address in it."""
        self.tags.append(tag)
        self.addresses += [value for name, value in attrs if name in ("src", "href", "data")]
        if tag not in NEVER_CLOSED:
            self.open.append(tag)

    def handle_endtag(self, tag):
        """See that it closes the last that was opened."""
        assert self.open.pop() == tag

    def handle_data(self, data):
        """Keep the words outside of styles."""
        if "style" not in self.open:
            self.data.append(data)

    @property
    def text(self):
        """All of it as it stands."""
        return "".join(self.data)

    @property
    def words(self):
        """Its words on one line, those of each tag apart."""
        return " ".join(" ".join(self.data).split())
