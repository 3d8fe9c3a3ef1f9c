//! What each client gets: what it says it can take, and nothing that it does not say.

mod support;

use serde_json::{Value, json};
use support::{Client, able, change, label, report_of};

const URI: &str = "file:///work/beam.haunch";
const PLATES: &str = "file:///work/plates.haunch";

fn document(uri: &str) -> Value {
    json!({"textDocument": {"uri": uri}})
}

fn at(line: u32, character: u32) -> Value {
    json!({"textDocument": {"uri": URI}, "position": {"line": line, "character": character}})
}

fn hints_of(lines: u32) -> Value {
    json!({
        "textDocument": {"uri": URI},
        "range": {"start": {"line": 0, "character": 0}, "end": {"line": lines, "character": 0}}
    })
}

async fn opened(capabilities: Value, text: &str) -> Client {
    let mut client = Client::greeted_with(able(capabilities)).await;
    client.open(URI, 1, text).await;
    client
}

/// What the server offers to a client.
async fn offered(capabilities: Value) -> Value {
    let mut client = Client::ungreeted();
    let mut answer = client.result("initialize", able(capabilities)).await;
    answer["capabilities"].take()
}

#[tokio::test]
async fn everything_on_the_list_is_offered() {
    let offered = offered(json!({})).await;
    for (pointer, expected) in [
        ("/positionEncoding", json!("utf-16")),
        ("/textDocumentSync/change", json!(2)),
        ("/textDocumentSync/openClose", json!(true)),
        ("/completionProvider/resolveProvider", json!(true)),
        ("/completionProvider/triggerCharacters", json!([".", "["])),
        (
            "/signatureHelpProvider/triggerCharacters",
            json!(["(", ","]),
        ),
        ("/hoverProvider", json!(true)),
        ("/definitionProvider", json!(true)),
        ("/typeDefinitionProvider", json!(true)),
        ("/referencesProvider", json!(true)),
        ("/documentHighlightProvider", json!(true)),
        ("/documentSymbolProvider", json!(true)),
        ("/workspaceSymbolProvider", json!(true)),
        ("/semanticTokensProvider/full/delta", json!(true)),
        ("/semanticTokensProvider/range", json!(true)),
        ("/foldingRangeProvider", json!(true)),
        ("/selectionRangeProvider", json!(true)),
        ("/linkedEditingRangeProvider", json!(true)),
        ("/callHierarchyProvider", json!(true)),
        ("/codeLensProvider/resolveProvider", json!(true)),
        ("/documentFormattingProvider", json!(true)),
        ("/documentRangeFormattingProvider", json!(true)),
        (
            "/documentOnTypeFormattingProvider/firstTriggerCharacter",
            json!("\n"),
        ),
        ("/workspace/workspaceFolders/supported", json!(true)),
        (
            "/workspace/workspaceFolders/changeNotifications",
            json!(true),
        ),
        (
            "/workspace/fileOperations/willRename/filters/0/pattern/glob",
            json!("**/*.haunch"),
        ),
        (
            "/workspace/fileOperations/didRename/filters/0/pattern/glob",
            json!("**/*.haunch"),
        ),
    ] {
        assert_eq!(offered.pointer(pointer), Some(&expected), "{pointer}");
    }
    for there in [
        "/documentLinkProvider",
        "/executeCommandProvider/commands/0",
        "/inlayHintProvider",
    ] {
        assert!(offered.pointer(there).is_some(), "{there}");
    }
}

#[tokio::test]
async fn what_depends_on_the_client_is_offered_by_what_it_says() {
    let plain = offered(json!({"textDocument": {"inlayHint": {}}})).await;
    let able = offered(json!({"textDocument": {
        "rename": {"prepareSupport": true},
        "diagnostic": {},
        "inlayHint": {"resolveSupport": {"properties": ["tooltip", "label.location"]}},
        "codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": [""]}}}
    }}))
    .await;
    let both = |pointer: &str| {
        let of = |offered: &Value| offered.pointer(pointer).cloned();
        (of(&plain), of(&able))
    };
    assert_eq!(
        both("/renameProvider"),
        (Some(json!(true)), Some(json!({"prepareProvider": true})))
    );
    assert_eq!(
        both("/inlayHintProvider/resolveProvider"),
        (Some(json!(false)), Some(json!(true)))
    );
    // One that says nothing of hints may ask for the rest of one.
    let silent = offered(json!({})).await;
    let resolves = silent.pointer("/inlayHintProvider/resolveProvider");
    assert_eq!(resolves, Some(&json!(true)));
    assert_eq!(both("/codeActionProvider").0, Some(json!(true)));
    assert_eq!(
        both("/codeActionProvider/codeActionKinds/0").1,
        Some(json!("quickfix"))
    );
    assert_eq!(both("/diagnosticProvider").0, None);
    assert_eq!(
        both("/diagnosticProvider").1,
        Some(
            json!({"identifier": "haunch", "interFileDependencies": true, "workspaceDiagnostics": true})
        )
    );
}

/// Two places that explain a third, which is in a mistaken sum.
const SUM: &str = "L = 3 m\nF = 2 kN\nx = L + F\ny = x\n";

#[tokio::test]
async fn related_places_or_their_words() {
    let shown = json!({"relatedInformation": true});
    for (capabilities, is_pulled) in [
        (json!({"publishDiagnostics": shown}), false),
        (json!({"diagnostic": {}, "publishDiagnostics": shown}), true),
        (json!({"diagnostic": shown}), true),
    ] {
        let mut client = opened(json!({"textDocument": capabilities}), SUM).await;
        let found = match is_pulled {
            true => client
                .result("textDocument/diagnostic", document(URI))
                .await["items"]
                .take(),
            false => client.diagnostics(URI, Some(1)).await,
        };
        assert_eq!(found[0]["code"], "unit-mismatch");
        let related = found[0]["relatedInformation"].as_array().expect("places");
        let place = |character: u32, end: u32| {
            let at = |character: u32| json!({"line": 2, "character": character});
            json!({"uri": URI, "range": {"start": at(character), "end": at(end)}})
        };
        assert_eq!(
            related
                .iter()
                .map(|one| one["location"].clone())
                .collect::<Vec<_>>(),
            [place(4, 5), place(8, 9)]
        );
        assert_eq!(related[0]["message"], "L is a length (mm)");
        let message = found[0]["message"].as_str().expect("words");
        assert_eq!(message.lines().count(), 1);
    }
    // What is said of the places follows the message, unless it says it itself.
    for (text, lines) in [(SUM, 1), ("a = 1 m\nb = a\na = 2 m\n", 2)] {
        let mut plain = opened(json!({}), text).await;
        let found = plain.diagnostics(URI, Some(1)).await;
        assert_eq!(found[0].get("relatedInformation"), None);
        let message = found[0]["message"].as_str().expect("words");
        assert_eq!(message.lines().count(), lines, "{message}");
    }
}

#[tokio::test]
async fn unused_values_are_tagged_for_clients_that_ask_too() {
    for place in ["publishDiagnostics", "diagnostic"] {
        let mut capabilities = json!({"textDocument": {"diagnostic": {}}});
        capabilities["textDocument"][place] = json!({"tagSupport": {"valueSet": [1]}});
        let mut client = opened(capabilities, "a = 3 m\n").await;
        let found = client
            .result("textDocument/diagnostic", document(URI))
            .await;
        assert_eq!(found["items"][0]["tags"], json!([1]), "{place}");
    }
}

#[tokio::test]
async fn errors_are_sent_before_warnings_when_not_all_are() {
    let warned: String = (0..700).map(|n| format!("w{n} = 1 m\n")).collect();
    let text = format!("w = 1 m\n{warned}e = \n");
    let mut client = opened(json!({}), &text).await;
    let found = client.diagnostics(URI, Some(1)).await;
    let found = found.as_array().expect("a list");
    assert_eq!(found.len(), 501);
    assert_eq!(found.iter().filter(|one| one["severity"] == 1).count(), 2);
    // Of 702 findings 500 are sent and one that counts the others.
    let last = found[500]["message"].as_str().expect("words");
    assert!(last.starts_with("202 more findings"), "{last}");
    let mut asking = opened(json!({"textDocument": {"diagnostic": {}}}), &text).await;
    let report = asking
        .result("textDocument/diagnostic", document(URI))
        .await;
    assert_eq!(report["items"].as_array(), Some(found));
}

#[tokio::test]
async fn a_file_that_is_gone_has_no_findings_any_more() {
    let mut client = opened(json!({"textDocument": {"diagnostic": {}}}), "a = b\n").await;
    client.open(PLATES, 1, "t = u\n").await;
    let asked = |previous: Value| json!({ "previousResultIds": previous });
    let report = client
        .result("workspace/diagnostic", asked(json!([])))
        .await;
    let known: Vec<_> = report["items"]
        .as_array()
        .expect("reports")
        .iter()
        .map(|item| json!({"uri": item["uri"], "value": item["resultId"]}))
        .collect();
    assert_eq!(known.len(), 2);
    client
        .notify("textDocument/didClose", document(PLATES))
        .await;
    let report = client
        .result("workspace/diagnostic", asked(json!(known)))
        .await;
    let of = |uri: &str| report_of(&report, uri);
    assert_eq!(of(URI)["kind"], "unchanged");
    assert_eq!(
        (&of(PLATES)["kind"], &of(PLATES)["items"]),
        (&json!("full"), &json!([]))
    );
}

const VALUES: &str = "b = 2 mm\na = b*3 [mm]\n";

/// Which of tooltip and place come with the hint, and which when it is resolved.
async fn hint(properties: Option<Value>) -> [bool; 4] {
    let support = properties.map_or(
        json!({}),
        |names| json!({"resolveSupport": {"properties": names}}),
    );
    let mut client = opened(json!({"textDocument": {"inlayHint": support}}), VALUES).await;
    let hints = client.result("textDocument/inlayHint", hints_of(2)).await;
    assert_eq!(label(&hints[0]), " = 6.000");
    let whole = match hints[0].get("data") {
        Some(_) => client.result("inlayHint/resolve", hints[0].clone()).await,
        None => hints[0].clone(),
    };
    let tooltip = |hint: &Value| {
        hint["tooltip"]["value"]
            .as_str()
            .is_some_and(|words| words.contains("2 mm * 3"))
    };
    let place = |hint: &Value| {
        hint["label"][0]["location"]["range"]["start"] == json!({"line": 0, "character": 0})
    };
    [
        tooltip(&hints[0]),
        place(&hints[0]),
        tooltip(&whole),
        place(&whole),
    ]
}

#[tokio::test]
async fn a_hint_has_its_tooltip_and_places_at_once_or_when_asked() {
    assert_eq!(hint(None).await, [true; 4]);
    assert_eq!(
        hint(Some(json!(["tooltip", "label.location"]))).await,
        [false, false, true, true]
    );
    assert_eq!(
        hint(Some(json!(["textEdits", "tooltip", "location", "command"]))).await,
        [false, false, true, true]
    );
    assert_eq!(
        hint(Some(json!(["tooltip"]))).await,
        [false, true, true, true]
    );
    // For the whole of a long file the working of every value would hold up the values.
    let long: String = (0..600)
        .map(|n| format!("b{n} = 2 mm\na{n} = b{n}*3 [mm]\n"))
        .collect();
    let mut client = opened(json!({"textDocument": {"inlayHint": {}}}), &long).await;
    let hints = client
        .result("textDocument/inlayHint", hints_of(1_200))
        .await;
    let hints = hints.as_array().expect("hints");
    assert_eq!(hints.len(), 600);
    assert!(hints.iter().all(|hint| hint.get("tooltip").is_none()));
}

#[tokio::test]
async fn each_kind_of_hint_can_be_switched_off() {
    let text = "results in mm\nb = 2 mm\na = b*3 [mm]\nsection s\n    rect f b x 10 mm\n    rect g b x 9 mm above f\n";
    let mut counts = Vec::new();
    for hints in [
        json!({}),
        json!({"values": false}),
        json!({"results": false}),
        json!({"defaults": false}),
        json!({"values": false, "results": false, "defaults": false}),
    ] {
        let greeting = json!({"capabilities": {}, "initializationOptions": {"hints": hints}});
        let mut client = Client::greeted_with(greeting).await;
        client.open(URI, 1, text).await;
        let found = client.result("textDocument/inlayHint", hints_of(9)).await;
        counts.push(found.as_array().expect("hints").len());
    }
    let all = counts[0];
    assert!(
        all > counts[1] && all > counts[2] && all > counts[3],
        "{counts:?}"
    );
    assert_eq!(
        (all - counts[1]) + (all - counts[2]) + (all - counts[3]),
        all
    );
    assert_eq!(counts[4], 0);
}

/// A client whose completions can do this, and the completion `a` at the end of the third line.
async fn completed(item: Value, text: &str) -> (Client, Value) {
    let able = json!({"textDocument": {"completion": {"completionItem": item}}});
    let mut client = opened(able, text).await;
    let items = client.result("textDocument/completion", at(2, 4)).await;
    let mut items = items.as_array().expect("a list").iter();
    let a = items.find(|item| item["label"] == "a").expect("the name");
    (client, a.clone())
}

#[tokio::test]
async fn a_completion_is_described_in_words_that_the_client_shows() {
    let text = "b = 2 mm\na = b*3 [mm]\nc = \n";
    for (format, is_markdown) in [(json!(["markdown"]), true), (json!(["plaintext"]), false)] {
        let item = json!({"documentationFormat": format});
        let (mut client, a) = completed(item, text).await;
        assert_eq!(a["detail"], "6.000 mm");
        assert_eq!(a.get("documentation"), None);
        let whole = client.result("completionItem/resolve", a.clone()).await;
        let words = match is_markdown {
            true => whole["documentation"]["value"].as_str(),
            false => whole["documentation"].as_str(),
        };
        let words = words.expect("a description");
        assert!(
            words.contains("2 mm * 3") && words.contains("```") == is_markdown,
            "{words}"
        );
    }
}

#[tokio::test]
async fn members_units_and_names_of_used_files_with_their_values() {
    let text = "use \"plates.haunch\" as p\nsection s\n    rect f 10 x 20 mm\na = s.\nb = p.\nc = \nF = 3 kN + 2 \n";
    let mut client = Client::greeted(&[]).await;
    client.open(PLATES, 1, "t = 8 mm\n").await;
    client.open(URI, 1, text).await;
    let mut found = Vec::new();
    for (line, character, name, detail) in [
        (3, 6, "area", Some("200.0 mm²")),
        (4, 6, "t", Some("8.000 mm")),
        (5, 4, "p.t", Some("8.000 mm")),
        (6, 13, "kN", None),
    ] {
        let items = client
            .result("textDocument/completion", at(line, character))
            .await;
        let items = items.as_array().expect("a list").clone();
        let item = items.iter().find(|item| item["label"] == name);
        let item = item.unwrap_or_else(|| panic!("no {name} in {items:?}"));
        if detail.is_some() {
            assert_eq!(item["detail"].as_str(), detail, "{name}");
        }
        found = items;
    }
    // A force is to be added: by the order that a client follows, units of force come first.
    let mut sorted: Vec<_> = found
        .iter()
        .map(|item| (item["sortText"].as_str(), item["label"].as_str()))
        .collect();
    sorted.sort_unstable();
    let rank = |name: &str| {
        sorted
            .iter()
            .position(|(_, label)| *label == Some(name))
            .expect("it is offered")
    };
    for force in ["kN", "N", "lbf"] {
        for other in ["mm", "MPa", "kg"] {
            assert!(rank(force) < rank(other), "{force} before {other}");
        }
    }
}

#[tokio::test]
async fn a_value_stands_beside_its_name_where_the_client_has_room() {
    let text = "b = 2 mm\na = b*3 [mm]\nc = \n";
    for (item, expected) in [
        (
            json!({"labelDetailsSupport": true}),
            json!({"description": "6.000 mm"}),
        ),
        (json!({}), Value::Null),
    ] {
        let (_client, a) = completed(item, text).await;
        assert_eq!(a["labelDetails"], expected);
    }
}

#[tokio::test]
async fn arguments_of_a_signature_as_places_or_words() {
    let text = "𝜎(M, W) = M/W [MPa]\na = 𝜎(3 kN*m, 2 cm^3)\n";
    let parameter = json!({"labelOffsetSupport": true});
    let able = json!({"textDocument": {"signatureHelp": {"signatureInformation": {"parameterInformation": parameter}}}});
    for (capabilities, expected) in [(able, json!([6, 7])), (json!({}), json!("W"))] {
        let mut client = opened(capabilities, text).await;
        let help = client.result("textDocument/signatureHelp", at(1, 16)).await;
        assert_eq!(help["activeParameter"], 1);
        let signature = &help["signatures"][0];
        assert!(
            signature["label"]
                .as_str()
                .is_some_and(|label| label.starts_with("𝜎(M, W)")),
            "{help}"
        );
        assert_eq!(signature["parameters"][1]["label"], expected);
    }
}

#[tokio::test]
async fn the_outline_is_a_tree_or_a_list() {
    let text = "section s\n    rect f 10 x 10 mm\n";
    let nested =
        json!({"textDocument": {"documentSymbol": {"hierarchicalDocumentSymbolSupport": true}}});
    let mut client = opened(nested, text).await;
    let tree = client
        .result("textDocument/documentSymbol", document(URI))
        .await;
    assert_eq!(
        (&tree[0]["name"], &tree[0]["children"][0]["name"]),
        (&json!("s"), &json!("f"))
    );
    let mut plain = opened(json!({}), text).await;
    let list = plain
        .result("textDocument/documentSymbol", document(URI))
        .await;
    assert_eq!(
        (&list[1]["name"], &list[1]["containerName"]),
        (&json!("f"), &json!("s"))
    );
    assert_eq!(list[1]["location"]["uri"], URI);
}

#[tokio::test]
async fn a_silent_client_is_asked_nothing() {
    let folder = std::env::temp_dir().join(format!("haunch-silent-{}", std::process::id()));
    std::fs::create_dir_all(&folder).expect("a folder");
    for number in 0..60 {
        std::fs::write(folder.join(format!("{number}.haunch")), "a = 1 m\n").expect("a file");
    }
    let root = format!("file://{}", folder.display());
    let mut client = Client::greeted_with(json!({"capabilities": {}, "rootUri": root})).await;
    let uri = format!("{root}/59.haunch");
    while client.result("rehearsal/text", json!({"uri": uri})).await["text"].is_null() {
        tokio::time::sleep(std::time::Duration::from_millis(5)).await;
    }
    client
        .open(URI, 1, "use \"plates.haunch\" as p\na = p.t [mm]\n")
        .await;
    client.open(PLATES, 1, "t = 8 mm\n").await;
    let show = json!({"command": "haunch.show", "arguments": [URI, {"line": 0, "character": 0}]});
    client.result("workspace/executeCommand", show).await;
    client
        .notify("workspace/didChangeConfiguration", json!({"settings": {}}))
        .await;
    client.diagnostics(PLATES, Some(1)).await;
    assert!(!client.came(|message| message.get("id").is_some()).await);
    std::fs::remove_dir_all(&folder).expect("it was there");
}

/// What a client asks again for when a value of another file changes.
const REFRESHES: [(&str, &str); 3] = [
    ("inlayHint", "workspace/inlayHint/refresh"),
    ("semanticTokens", "workspace/semanticTokens/refresh"),
    ("codeLens", "workspace/codeLens/refresh"),
];

async fn refreshed(client: &mut Client) {
    for (_, method) in REFRESHES {
        let request = client.other(|message| message["method"] == method).await;
        client.reply(&request, Value::Null).await;
    }
}

#[tokio::test]
async fn a_value_of_another_file_refreshes_what_shows_it_and_no_other_value_does() {
    let mut workspace = json!({});
    for (name, _) in REFRESHES {
        workspace[name] = json!({"refreshSupport": true});
    }
    let mut client = Client::greeted_with(able(json!({ "workspace": workspace }))).await;
    client.open(PLATES, 1, "t = 8 mm\nu = 5 mm\n").await;
    client
        .open(
            URI,
            1,
            "use \"plates.haunch\" as p\na = p.t*2 [mm]\nb = a\n",
        )
        .await;
    // It is used: there is less to be found in the other file.
    refreshed(&mut client).await;
    client
        .change(PLATES, 2, json!([change(1, 4, 5, "6")]))
        .await;
    client.diagnostics(PLATES, Some(2)).await;
    assert!(!client.came(|message| message.get("id").is_some()).await);
    client
        .change(PLATES, 3, json!([change(0, 4, 5, "9")]))
        .await;
    refreshed(&mut client).await;
    let hints = client.result("textDocument/inlayHint", hints_of(1)).await;
    assert_eq!(label(&hints[0]), " = 18.00");
}

#[tokio::test]
async fn a_client_that_would_not_ask_again_gets_its_answer() {
    let mut client = opened(json!({}), "a = 1 m\n").await;
    let waiting = client.ask("rehearsal/waitFor", document(URI)).await;
    client.change(URI, 2, json!([change(0, 4, 5, "2")])).await;
    client.diagnostics(URI, Some(2)).await;
    client
        .notify("$/cancelRequest", json!({"id": waiting}))
        .await;
    // It ends by being cancelled, not by the edit.
    assert_eq!(client.answer(waiting).await["error"]["code"], -32800);
}
