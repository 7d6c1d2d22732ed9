"""Text of users is shown as it stands: a CommonMark parser finds nothing in it to render."""

from hypothesis import example, given
from hypothesis import strategies as st
from markdown_it import MarkdownIt

from ui.markup import WORD_JOINER, literal

# markdown-it-py: a parser that follows CommonMark and is no part of this project.
PARSER = MarkdownIt("commonmark").enable(["table", "strikethrough"])


@given(st.text(alphabet=st.characters(min_codepoint=32, max_codepoint=0x2FF), max_size=40))
@example("*a* _b_ `c` [d](e) ![f](g) <b>h</b> &amp; ~~i~~ | j |")
@example("# heading")
@example("1. list")
@example("    code")
@example("a\n\n- b")
def test_a_parser_finds_the_text_and_nothing_else(text: str) -> None:
    tokens = PARSER.parse(literal(text))
    assert [token.type for token in tokens] in ([], ["paragraph_open", "inline", "paragraph_close"])
    children = [child for token in tokens for child in token.children or []]
    assert {child.type for child in children} <= {"text", "text_special"}
    assert "".join(child.content for child in children).replace(WORD_JOINER, "").split() == text.split()


def test_what_only_streamlit_reads_is_broken_too() -> None:
    """Colour directives, formulas, addresses and arrows are found after Markdown has been parsed."""
    assert literal(":red[a]") == "\\:red\\[a\\]"
    assert literal("$x$") == "\\$x\\$"
    assert WORD_JOINER in literal("www.example.org")
    assert WORD_JOINER in literal("a@example.org")
    assert WORD_JOINER in literal("->")
