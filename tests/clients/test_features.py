"""A whole session of a client that checks each message: it opens, edits, asks for everything that is offered."""

import asyncio
import os
import pathlib

import pytest
import pytest_lsp
from answers import answer_requests
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient, client_capabilities

EXAMPLES = pathlib.Path(__file__).parents[2] / "examples"
RAIL = EXAMPLES / "hoist-rail.haunch"
URI = RAIL.as_uri()
TEXT = RAIL.read_text(encoding="utf-8")


@pytest_lsp.fixture(
    config=ClientServerConfig(server_command=[os.environ["HAUNCH"], "lsp"]),
    params=["visual-studio-code", "neovim", "emacs"],
)
async def client(request, lsp_client: LanguageClient):
    try:
        capabilities = client_capabilities(request.param)
    except ValueError:
        pytest.skip("the library does not know this client")
    answer_requests(lsp_client)
    answer = await lsp_client.initialize_session(
        types.InitializeParams(
            capabilities=capabilities,
            workspace_folders=[types.WorkspaceFolder(uri=EXAMPLES.as_uri(), name="examples")],
        )
    )
    lsp_client.offered = answer.capabilities
    lsp_client.text_document_did_open(
        types.DidOpenTextDocumentParams(
            types.TextDocumentItem(uri=URI, language_id="haunch", version=1, text=TEXT)
        )
    )
    yield
    await lsp_client.shutdown_session()


DOCUMENT = types.TextDocumentIdentifier(uri=URI)
WHOLE = types.Range(types.Position(0, 0), types.Position(TEXT.count("\n"), 0))


def place(words, after=0):
    """Where the words start in the example, with so many characters after that."""
    offset = TEXT.index(words)
    before = TEXT[:offset]
    line = before.count("\n")
    return types.Position(line, offset - (before.rfind("\n") + 1) + after)


def at(words, after=0):
    return {"text_document": DOCUMENT, "position": place(words, after)}


@pytest.mark.asyncio
async def test_names(client: LanguageClient):
    hover = await client.text_document_hover_async(types.HoverParams(**at("ybar = (")))
    assert "37.73 mm" in hover.contents.value
    definition = await client.text_document_definition_async(
        types.DefinitionParams(**at("rated*(1", 1))
    )
    assert definition.range.start == place("rated  =")
    assert await client.text_document_type_definition_async(
        types.TypeDefinitionParams(**at("rated*(1", 1))
    )
    context = types.ReferenceContext(include_declaration=True)
    found = await client.text_document_references_async(
        types.ReferenceParams(context=context, **at("rated  ="))
    )
    assert len(found) == 3
    assert await client.text_document_document_highlight_async(
        types.DocumentHighlightParams(**at("rated  ="))
    )
    edit = await client.text_document_rename_async(
        types.RenameParams(new_name="rating", **at("rated  ="))
    )
    assert edit.changes or edit.document_changes
    if getattr(client.offered.rename_provider, "prepare_provider", False):
        assert await client.text_document_prepare_rename_async(
            types.PrepareRenameParams(**at("rated  ="))
        )
    items = await client.text_document_prepare_call_hierarchy_async(
        types.CallHierarchyPrepareParams(**at("hook_limit ="))
    )
    assert [item.name for item in items] == ["hook_limit"]
    users = await client.call_hierarchy_incoming_calls_async(
        types.CallHierarchyIncomingCallsParams(item=items[0])
    )
    assert [call.from_.name for call in users] == ["safe_lift"]
    used = await client.call_hierarchy_outgoing_calls_async(
        types.CallHierarchyOutgoingCallsParams(item=items[0])
    )
    assert [call.to.name for call in used] == ["runway"]


@pytest.mark.asyncio
async def test_writing(client: LanguageClient):
    found = await client.text_document_completion_async(
        types.CompletionParams(**at("rail.ybar within", 5))
    )
    items = found.items if isinstance(found, types.CompletionList) else found
    assert any(item.label == "Ixx" for item in items)
    if client.offered.completion_provider.resolve_provider:
        await client.completion_item_resolve_async(items[0])
    await client.text_document_signature_help_async(
        types.SignatureHelpParams(**at("rated*(1", 7))
    )
    actions = await client.text_document_code_action_async(
        types.CodeActionParams(
            text_document=DOCUMENT,
            range=types.Range(place("safe_lift  ="), place("safe_lift  =")),
            context=types.CodeActionContext(diagnostics=[]),
        )
    )
    assert any("check" in action.title for action in actions)
    options = types.FormattingOptions(tab_size=4, insert_spaces=True)
    await client.text_document_formatting_async(
        types.DocumentFormattingParams(text_document=DOCUMENT, options=options)
    )
    await client.text_document_range_formatting_async(
        types.DocumentRangeFormattingParams(text_document=DOCUMENT, range=WHOLE, options=options)
    )


@pytest.mark.asyncio
async def test_shape(client: LanguageClient):
    hints = await client.text_document_inlay_hint_async(
        types.InlayHintParams(text_document=DOCUMENT, range=WHOLE)
    )
    assert hints
    if client.offered.inlay_hint_provider.resolve_provider:
        assert (await client.inlay_hint_resolve_async(hints[0])).tooltip
    assert await client.text_document_document_symbol_async(
        types.DocumentSymbolParams(text_document=DOCUMENT)
    )
    assert await client.workspace_symbol_async(types.WorkspaceSymbolParams(query="run"))
    assert await client.text_document_folding_range_async(
        types.FoldingRangeParams(text_document=DOCUMENT)
    )
    selections = await client.text_document_selection_range_async(
        types.SelectionRangeParams(text_document=DOCUMENT, positions=[place("ybar = (", 9)])
    )
    assert selections[0].parent
    links = await client.text_document_document_link_async(
        types.DocumentLinkParams(text_document=DOCUMENT)
    )
    assert links[0].target.endswith("shop-materials.haunch")
    lenses = await client.text_document_code_lens_async(
        types.CodeLensParams(text_document=DOCUMENT)
    )
    assert (await client.code_lens_resolve_async(lenses[0])).command.title
    full = await client.text_document_semantic_tokens_full_async(
        types.SemanticTokensParams(text_document=DOCUMENT)
    )
    assert len(full.data) % 5 == 0 and full.data
    delta = await client.text_document_semantic_tokens_full_delta_async(
        types.SemanticTokensDeltaParams(
            text_document=DOCUMENT, previous_result_id=full.result_id
        )
    )
    assert not delta.edits
    part = await client.text_document_semantic_tokens_range_async(
        types.SemanticTokensRangeParams(text_document=DOCUMENT, range=WHOLE)
    )
    assert part.data == full.data


@pytest.mark.asyncio
async def test_edits_and_findings(client: LanguageClient):
    line = place("rated  =").line
    client.text_document_did_change(
        types.DidChangeTextDocumentParams(
            text_document=types.VersionedTextDocumentIdentifier(uri=URI, version=2),
            content_changes=[
                types.TextDocumentContentChangePartial(
                    range=types.Range(types.Position(line, 0), types.Position(line, 5)),
                    text="rating",
                )
            ],
        )
    )
    if client.offered.diagnostic_provider:
        report = await client.text_document_diagnostic_async(
            types.DocumentDiagnosticParams(text_document=DOCUMENT)
        )
        found = report.items
        again = await client.text_document_diagnostic_async(
            types.DocumentDiagnosticParams(
                text_document=DOCUMENT, previous_result_id=report.result_id
            )
        )
        assert again.kind == "unchanged"
        everything = await client.workspace_diagnostic_async(
            types.WorkspaceDiagnosticParams(previous_result_ids=[])
        )
        assert any(item.uri == URI for item in everything.items)
        assert URI not in client.diagnostics
    else:
        for _ in range(500):
            found = client.diagnostics.get(URI, [])
            if any(one.code == "unknown-name" for one in found):
                break
            await asyncio.sleep(0.01)
    assert any(one.code == "unknown-name" for one in found)
    moved = types.FileRename(
        old_uri=(EXAMPLES / "shop-materials.haunch").as_uri(),
        new_uri=(EXAMPLES / "steel" / "shop.haunch").as_uri(),
    )
    edit = await client.workspace_will_rename_files_async(types.RenameFilesParams(files=[moved]))
    assert edit.changes or edit.document_changes
    assert client.error is None


@pytest.mark.asyncio
async def test_typing(client: LanguageClient):
    # An argument of a formula, and the end of a line that is aligned.
    uri = (EXAMPLES / "typed-here.haunch").as_uri()
    text = "inertia(b, d) = b*d^3/12\nplank = inertia(200 mm, 50 mm)\n"
    document = types.TextDocumentIdentifier(uri=uri)
    client.text_document_did_open(
        types.DidOpenTextDocumentParams(
            types.TextDocumentItem(uri=uri, language_id="haunch", version=1, text=text)
        )
    )
    linked = await client.text_document_linked_editing_range_async(
        types.LinkedEditingRangeParams(text_document=document, position=types.Position(0, 8))
    )
    assert [one.start.character for one in linked.ranges] == [8, 16]
    await client.text_document_on_type_formatting_async(
        types.DocumentOnTypeFormattingParams(
            text_document=document,
            position=types.Position(1, 0),
            ch="\n",
            options=types.FormattingOptions(tab_size=4, insert_spaces=True),
        )
    )
    client.text_document_did_close(types.DidCloseTextDocumentParams(text_document=document))
    assert client.error is None


@pytest.mark.asyncio
async def test_commands(client: LanguageClient):
    assert set(client.offered.execute_command_provider.commands) == {
        "haunch.apply",
        "haunch.show",
        "haunch.page",
    }
    page = await client.workspace_execute_command_async(
        types.ExecuteCommandParams(
            command="haunch.page", arguments=["haunch-page://findings/unit-mismatch.md"]
        )
    )
    assert page.startswith("# unit-mismatch\n")
    await client.workspace_execute_command_async(
        types.ExecuteCommandParams(
            command="haunch.show", arguments=[URI, {"line": 1, "character": 0}]
        )
    )
    window = client.capabilities.window
    if window and window.show_document and window.show_document.support:
        for _ in range(500):
            if client.shown_documents:
                break
            await asyncio.sleep(0.01)
        params = client.shown_documents[0]
        assert params.uri == URI and params.selection.start.line == 1


@pytest.mark.asyncio
async def test_files_that_change_outside(client: LanguageClient, tmp_path):
    client.workspace_did_change_workspace_folders(
        types.DidChangeWorkspaceFoldersParams(
            event=types.WorkspaceFoldersChangeEvent(
                added=[types.WorkspaceFolder(uri=tmp_path.as_uri(), name="outside")], removed=[]
            )
        )
    )
    path = tmp_path / "plank.haunch"

    async def symbols(change):
        client.workspace_did_change_watched_files(
            types.DidChangeWatchedFilesParams(
                changes=[types.FileEvent(uri=path.as_uri(), type=change)]
            )
        )
        found = await client.workspace_symbol_async(types.WorkspaceSymbolParams(query="cedar"))
        return [symbol.name for symbol in found or []]

    path.write_text("cedar_depth = 50 mm\n", encoding="utf-8")
    assert await symbols(types.FileChangeType.Created) == ["cedar_depth"]
    path.write_text("cedar_width = 50 mm\n", encoding="utf-8")
    assert await symbols(types.FileChangeType.Changed) == ["cedar_width"]
    path.unlink()
    assert await symbols(types.FileChangeType.Deleted) == []
    assert client.error is None
