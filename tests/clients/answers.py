"""What a client answers to a server."""

from lsprotocol import types
from pytest_lsp import LanguageClient


def answer_requests(client: LanguageClient):
    """Answers what a server may ask of any client that says it can."""
    for method in [
        types.CLIENT_REGISTER_CAPABILITY,
        types.WORKSPACE_INLAY_HINT_REFRESH,
        types.WORKSPACE_SEMANTIC_TOKENS_REFRESH,
        types.WORKSPACE_CODE_LENS_REFRESH,
    ]:
        client.feature(method)(lambda *_: None)
