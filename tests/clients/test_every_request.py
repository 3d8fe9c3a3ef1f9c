"""Every request at every place of a document, from a client that can do everything and one that can do nothing, in every
encoding. Each message is read strictly: what the protocol's types do not keep of it is a mistake of the server."""

import asyncio
import os

import attrs
import pytest
import pytest_lsp
from answers import answer_requests
from lsprotocol import types
from pytest_lsp import ClientServerConfig, LanguageClient

SHARED = """# what the shop has
material plate
    E = 205 GPa
    limit tension     <= 165 MPa
    limit compression <= 140 MPa

t_usual = 8 mm
𝜎_allowed = 165 MPa
σ(M, W) = M/W [MPa]
"""

TEXT = """use "shop.haunch" as shop
results in mm, kN, kN*m, MPa, 4 digits
𝜎₁ = 6 kN
ȳ = 𝜎₁*1.2 m
    + 0.5 kN*m [kN*m]
section rail of shop.plate
    rect flange 120 x 10 mm
    rect web shop.t_usual x 140 mm above flange
    point edge at top
beam 𝜎beam of rail
    length = 3 m
    load crowd 2 kN/m
stress = shop.σ(ȳ, rail.section_modulus_bottom)
P = largest crowd of 𝜎beam [kN/m]
verify stress <= shop.𝜎_allowed
wrong = 𝜎₁ + ȳ
unused = 3 m
bare = 3 [m]
twice(𝜎x) = 𝜎x*2 [mm]
"""

EVERYTHING = [("everything", encoding) for encoding in ["utf-8", "utf-16", "utf-32"]]
OPTIONS = types.FormattingOptions(tab_size=4, insert_spaces=True)


def filled(kind):
    """A value of a capability type that says yes to all."""
    made = {}
    for field in attrs.fields(kind):
        args = getattr(field.type, "__args__", (field.type,))
        inner = next((one for one in args if one is not type(None)), field.type)
        inner = getattr(types, inner.__forward_arg__) if hasattr(inner, "__forward_arg__") else inner
        if inner is bool:
            made[field.name] = True
        elif attrs.has(inner) if isinstance(inner, type) else False:
            made[field.name] = filled(inner)
    made.update(SPECIAL.get(kind, {}))
    missing = [f.name for f in attrs.fields(kind) if f.default is attrs.NOTHING and f.name not in made]
    return None if missing else kind(**made)


BOTH = [types.MarkupKind.Markdown, types.MarkupKind.PlainText]
SPECIAL = {
    types.HoverClientCapabilities: {"content_format": BOTH},
    types.ClientCompletionItemOptions: {"documentation_format": BOTH},
    types.ClientCompletionItemResolveOptions: {"properties": ["documentation"]},
    types.ClientSignatureInformationOptions: {"documentation_format": BOTH},
    types.ClientDiagnosticsTagOptions: {"value_set": list(types.DiagnosticTag)},
    types.ClientInlayHintResolveOptions: {"properties": ["tooltip", "label.location"]},
    types.ClientCodeActionKindOptions: {"value_set": [types.CodeActionKind.QuickFix]},
    types.ClientSemanticTokensRequestOptions: {"range": True, "full": types.ClientSemanticTokensRequestFullDelta(delta=True)},
}


def capabilities(which, encoding, pulls):
    if which == "nothing":
        return types.ClientCapabilities()
    able = filled(types.ClientCapabilities)
    able.general = types.GeneralClientCapabilities(
        position_encodings=[encoding],
        stale_request_support=types.StaleRequestSupportOptions(cancel=True, retry_on_content_modified=[]),
    )
    able.experimental = {"haunch": {"drawings": True, "pages": True}}
    if not pulls:
        able.text_document.diagnostic = None
    return able


def lost(raw, kept, path=""):
    """Where a message has something that its type does not keep."""
    if isinstance(raw, dict) and isinstance(kept, dict):
        for key, value in raw.items():
            if key not in kept:
                if value is not None:
                    yield f"{path}.{key}"
            elif key not in ("data", "arguments", "registerOptions"):
                yield from lost(value, kept[key], f"{path}.{key}")
    elif isinstance(raw, list) and isinstance(kept, list):
        if len(raw) != len(kept):
            yield path
        for one, other in zip(raw, kept):
            yield from lost(one, other, f"{path}[]")
    elif raw != kept:
        yield f"{path}: {raw!r} is not {kept!r}"


def actions_with_commands(message):
    """The actions that run a command, at their places in the answer: the library takes those for commands."""
    answer = message.get("result")
    for one in answer if isinstance(answer, list) else []:
        runs = isinstance(one, dict) and isinstance(one.get("command"), dict) and "range" not in one
        yield one if runs else None


def read_strictly(client):
    protocol = client.protocol
    structure = protocol.structure_message
    client.complaints = []

    def strict(data):
        message = structure(data)
        if "method" in data or "result" in data:
            kept = protocol._converter.unstructure(message)
            for number, one in enumerate(actions_with_commands(data)):
                if one:
                    action = protocol._converter.structure(one, types.CodeAction)
                    kept["result"][number] = protocol._converter.unstructure(action)
            client.complaints.extend(lost(data, kept))
        return message

    protocol.structure_message = strict


@pytest_lsp.fixture(
    config=ClientServerConfig(server_command=[os.environ["HAUNCH"], "lsp"]),
    params=[(*one, pulls) for one in EVERYTHING for pulls in (True, False)] + [("nothing", "utf-16", False)],
    ids=lambda param: f"{param[0]}-{param[1]}-{'pull' if param[2] else 'push'}",
)
async def client(request, lsp_client: LanguageClient, tmp_path):
    which, encoding, pulls = request.param
    read_strictly(lsp_client)
    answer_requests(lsp_client)
    answer = await lsp_client.initialize_session(
        types.InitializeParams(capabilities=capabilities(which, encoding, pulls))
    )
    lsp_client.offered = answer.capabilities
    lsp_client.encoding = encoding
    lsp_client.pulls = pulls
    assert answer.capabilities.position_encoding == encoding
    yield
    assert lsp_client.complaints == []
    await lsp_client.shutdown_session()


def width(text, encoding):
    bytes_of = {"utf-8": ("utf-8", 1), "utf-16": ("utf-16-le", 2), "utf-32": ("utf-32-le", 4)}
    name, unit = bytes_of[encoding]
    return len(text.encode(name)) // unit


def places(text, encoding):
    for number, line in enumerate(text.splitlines()):
        for column in range(len(line) + 1):
            yield types.Position(number, width(line[:column], encoding))


def opened(client, uri, text):
    client.text_document_did_open(
        types.DidOpenTextDocumentParams(
            types.TextDocumentItem(uri=uri, language_id="haunch", version=1, text=text)
        )
    )


@pytest.mark.asyncio
@pytest.mark.parametrize("ending", ["\n", "\r\n"], ids=["lf", "crlf"])
async def test_every_request_at_every_place(client: LanguageClient, ending):
    uri, shared = "untitled:/rail.haunch", "untitled:/shop.haunch"
    uri, shared = ("file:///nowhere/rail.haunch", "file:///nowhere/shop.haunch") if ending == "\n" else (uri, shared)
    text = TEXT.replace("\n", ending)
    opened(client, shared, SHARED.replace("\n", ending))
    opened(client, uri, text)
    document = types.TextDocumentIdentifier(uri=uri)
    answered = {}

    async def ask(name, params):
        try:
            answer = await getattr(client, f"{name}_async")(params)
        except Exception as refusal:
            # A name that cannot be changed is refused with the reason.
            assert "rename" in name, f"{name} {params}: {refusal}"
            return None
        if answer:
            answered[name] = answered.get(name, 0) + 1
        return answer

    # One session asks at every place; so that the others end soon, these ask at every fifth.
    step = 1 if ending == "\n" and client.pulls and client.encoding == "utf-16" else 5
    for position in list(places(TEXT, client.encoding))[::step]:
        here = {"text_document": document, "position": position}
        nothing = types.Range(position, position)
        await asyncio.gather(
            ask("text_document_hover", types.HoverParams(**here)),
            ask("text_document_definition", types.DefinitionParams(**here)),
            ask("text_document_type_definition", types.TypeDefinitionParams(**here)),
            ask(
                "text_document_references",
                types.ReferenceParams(context=types.ReferenceContext(include_declaration=True), **here),
            ),
            ask("text_document_document_highlight", types.DocumentHighlightParams(**here)),
            ask("text_document_prepare_rename", types.PrepareRenameParams(**here)),
            ask("text_document_rename", types.RenameParams(new_name="𝜎_new", **here)),
            ask("text_document_linked_editing_range", types.LinkedEditingRangeParams(**here)),
            ask("text_document_completion", types.CompletionParams(**here)),
            ask("text_document_signature_help", types.SignatureHelpParams(**here)),
            ask("text_document_prepare_call_hierarchy", types.CallHierarchyPrepareParams(**here)),
            ask(
                "text_document_selection_range",
                types.SelectionRangeParams(text_document=document, positions=[position]),
            ),
            ask(
                "text_document_code_action",
                types.CodeActionParams(
                    text_document=document, range=nothing, context=types.CodeActionContext(diagnostics=[])
                ),
            ),
            ask(
                "text_document_on_type_formatting",
                types.DocumentOnTypeFormattingParams(ch="\n", options=OPTIONS, **here),
            ),
        )

    whole = types.Range(types.Position(0, 0), types.Position(len(TEXT.splitlines()), 0))
    hints = await ask("text_document_inlay_hint", types.InlayHintParams(document, whole))
    for hint in hints:
        if client.offered.inlay_hint_provider.resolve_provider:
            await ask("inlay_hint_resolve", hint)
    for lens in await ask("text_document_code_lens", types.CodeLensParams(document)):
        await ask("code_lens_resolve", lens)
    line = next(number for number, line in enumerate(TEXT.splitlines()) if line.startswith("stress"))
    items = await ask(
        "text_document_completion",
        types.CompletionParams(text_document=document, position=types.Position(line, len("stress = "))),
    )
    for item in items:
        await ask("completion_item_resolve", item)
    named = await ask(
        "text_document_prepare_call_hierarchy",
        types.CallHierarchyPrepareParams(text_document=document, position=types.Position(line, 1)),
    )
    await ask("call_hierarchy_incoming_calls", types.CallHierarchyIncomingCallsParams(item=named[0]))
    await ask("call_hierarchy_outgoing_calls", types.CallHierarchyOutgoingCallsParams(item=named[0]))
    await ask("text_document_document_symbol", types.DocumentSymbolParams(document))
    await ask("workspace_symbol", types.WorkspaceSymbolParams(query="𝜎"))
    await ask("text_document_folding_range", types.FoldingRangeParams(document))
    await ask("text_document_document_link", types.DocumentLinkParams(document))
    tokens = await ask("text_document_semantic_tokens_full", types.SemanticTokensParams(document))
    await ask(
        "text_document_semantic_tokens_full_delta",
        types.SemanticTokensDeltaParams(document, previous_result_id=tokens.result_id),
    )
    await ask("text_document_semantic_tokens_range", types.SemanticTokensRangeParams(document, whole))
    await ask("text_document_formatting", types.DocumentFormattingParams(document, OPTIONS))
    await ask("text_document_range_formatting", types.DocumentRangeFormattingParams(document, whole, OPTIONS))
    moved = types.FileRename(old_uri=shared, new_uri=shared.replace("shop", "steel/shop"))
    await ask("workspace_will_rename_files", types.RenameFilesParams(files=[moved]))
    page = "haunch-page://findings/unit-mismatch.md"
    await ask("workspace_execute_command", types.ExecuteCommandParams("haunch.page", arguments=[page]))
    if client.pulls:
        await ask("text_document_diagnostic", types.DocumentDiagnosticParams(document))
        await ask("workspace_diagnostic", types.WorkspaceDiagnosticParams(previous_result_ids=[]))
        assert uri not in client.diagnostics
    else:
        for _ in range(500):
            if len(client.diagnostics.get(uri, [])) >= 2:
                break
            await asyncio.sleep(0.01)
        assert {"unit-mismatch", "unused-value"} <= {one.code for one in client.diagnostics[uri]}
    assert client.error is None
    optional = {
        "inlay_hint_resolve": not client.offered.inlay_hint_provider.resolve_provider,
        "text_document_diagnostic": not client.pulls,
        "workspace_diagnostic": not client.pulls,
        "workspace_will_rename_files": uri.startswith("untitled:"),
        "text_document_document_link": uri.startswith("untitled:"),
    }
    silent = [name for name in REQUESTS if name not in answered and not optional.get(name)]
    assert silent == []


REQUESTS = """text_document_hover text_document_definition text_document_type_definition text_document_references
text_document_document_highlight text_document_prepare_rename text_document_rename
text_document_linked_editing_range text_document_completion completion_item_resolve text_document_signature_help
text_document_prepare_call_hierarchy call_hierarchy_incoming_calls call_hierarchy_outgoing_calls
text_document_selection_range text_document_code_action text_document_on_type_formatting text_document_inlay_hint
inlay_hint_resolve text_document_code_lens code_lens_resolve text_document_document_symbol workspace_symbol
text_document_folding_range text_document_document_link text_document_semantic_tokens_full
text_document_semantic_tokens_full_delta text_document_semantic_tokens_range text_document_formatting
text_document_range_formatting workspace_will_rename_files workspace_execute_command text_document_diagnostic
workspace_diagnostic""".split()
