//! The shape of a document over the protocol: colours, folds, selections, links, lenses, hints with parts.

mod support;

use serde_json::{Value, json};
use support::{Client, change};

const URI: &str = "untitled:Untitled-1";
const TEXT: &str =
    "# one\n# two\nb = 2 mm\na = b*𝜎 [mm^2]\n𝜎 = 3 mm\nsection s\n    rect f b x 𝜎\n";

fn document() -> Value {
    json!({"textDocument": {"uri": URI}})
}

/// Turns packed tokens into lines, columns and lengths.
fn unpacked(data: &Value) -> Vec<(u64, u64, u64)> {
    let numbers: Vec<u64> = data
        .as_array()
        .expect("numbers")
        .iter()
        .filter_map(Value::as_u64)
        .collect();
    let (mut line, mut start) = (0, 0);
    let tokens = numbers.chunks_exact(5).map(|token| {
        start = if token[0] == 0 {
            start + token[1]
        } else {
            token[1]
        };
        line += token[0];
        (line, start, token[2])
    });
    tokens.collect()
}

#[tokio::test]
async fn tokens_are_counted_as_agreed() {
    for (encoding, sigma) in [
        ("utf-8", (3, 6, 4)),
        ("utf-16", (3, 6, 2)),
        ("utf-32", (3, 6, 1)),
    ] {
        let mut client = Client::greeted(&[encoding]).await;
        client.open(URI, 1, TEXT).await;
        let tokens = client
            .result("textDocument/semanticTokens/full", document())
            .await;
        assert!(
            unpacked(&tokens["data"]).contains(&sigma),
            "{encoding}: {tokens}"
        );
    }
}

#[tokio::test]
async fn a_delta_makes_the_new_tokens_of_the_old() {
    let mut client = Client::greeted(&["utf-16"]).await;
    client.open(URI, 1, TEXT).await;
    let first = client
        .result("textDocument/semanticTokens/full", document())
        .await;
    let mut numbers: Vec<Value> = first["data"].as_array().expect("numbers").clone();
    let mut id = first["resultId"].clone();
    for (version, edit) in [
        (2, change(2, 4, 5, "22")),
        (3, change(3, 0, 0, "c = b\n")),
        (4, change(0, 0, 5, "")),
    ] {
        client.change(URI, version, json!([edit])).await;
        let mut params = document();
        params["previousResultId"] = id;
        let delta = client
            .result("textDocument/semanticTokens/full/delta", params)
            .await;
        for edit in delta["edits"].as_array().expect("edits").iter().rev() {
            let start = edit["start"].as_u64().unwrap() as usize;
            let end = start + edit["deleteCount"].as_u64().unwrap() as usize;
            let data = edit["data"].as_array().cloned().unwrap_or_default();
            numbers.splice(start..end, data);
        }
        let whole = client
            .result("textDocument/semanticTokens/full", document())
            .await;
        assert_eq!(Value::Array(numbers.clone()), whole["data"]);
        id = whole["resultId"].clone();
    }
    let mut params = document();
    params["previousResultId"] = json!("unknown");
    let answer = client
        .result("textDocument/semanticTokens/full/delta", params)
        .await;
    assert!(
        answer["data"].is_array(),
        "an unknown id gets the whole: {answer}"
    );
}

#[tokio::test]
async fn tokens_of_a_range_are_those_of_its_lines() {
    let mut client = Client::greeted(&[]).await;
    client.open(URI, 1, TEXT).await;
    let whole = client
        .result("textDocument/semanticTokens/full", document())
        .await;
    let mut params = document();
    params["range"] =
        json!({"start": {"line": 3, "character": 0}, "end": {"line": 4, "character": 0}});
    let part = client
        .result("textDocument/semanticTokens/range", params)
        .await;
    let wanted: Vec<_> = unpacked(&whole["data"])
        .into_iter()
        .filter(|token| (3..=4).contains(&token.0))
        .collect();
    assert_eq!(unpacked(&part["data"]), wanted);
}

#[tokio::test]
async fn folds_selections_links_and_names() {
    let mut client = Client::greeted(&["utf-16"]).await;
    client
        .open("file:///work/a.haunch", 1, "use \"b.haunch\" as q\n")
        .await;
    client.open(URI, 1, TEXT).await;
    let folds = client.result("textDocument/foldingRange", document()).await;
    assert_eq!(folds[0]["kind"], "comment");
    assert_eq!(
        (&folds[1]["startLine"], &folds[1]["endLine"]),
        (&json!(5), &json!(6))
    );
    let mut params = document();
    params["positions"] = json!([{"line": 3, "character": 6}, {"line": 0, "character": 0}]);
    let selections = client.result("textDocument/selectionRange", params).await;
    assert_eq!(
        selections[0]["range"]["end"],
        json!({"line": 3, "character": 8})
    );
    assert_eq!(
        selections[0]["parent"]["range"]["start"],
        json!({"line": 3, "character": 4})
    );
    assert_eq!(selections.as_array().map(Vec::len), Some(2));
    let links = client
        .result(
            "textDocument/documentLink",
            json!({"textDocument": {"uri": "file:///work/a.haunch"}}),
        )
        .await;
    assert_eq!(links[0]["target"], "file:///work/b.haunch");
    let names = client
        .result("workspace/symbol", json!({"query": "𝜎"}))
        .await;
    assert_eq!(
        (&names[0]["name"], &names[0]["location"]["uri"]),
        (&json!("𝜎"), &json!(URI))
    );
}

#[tokio::test]
async fn lenses_get_their_words_when_shown() {
    let mut client = Client::greeted(&[]).await;
    client.open(URI, 1, TEXT).await;
    let lenses = client.result("textDocument/codeLens", document()).await;
    assert_eq!(lenses[0]["command"], Value::Null);
    let shown = client.result("codeLens/resolve", lenses[0].clone()).await;
    assert_eq!(shown["command"]["title"], "not used");
    client
        .change(URI, 2, json!([change(7, 0, 0, "c = s.area\n")]))
        .await;
    let shown = client.result("codeLens/resolve", lenses[0].clone()).await;
    assert_eq!(shown["command"]["title"], "1 use");
}

#[tokio::test]
async fn lenses_say_uses_limits_and_what_governs() {
    let text = "material m\n    E = 200 GPa\n    limit tension <= 165 MPa\n    limit compression <= 165 MPa\n\
                section s of m\n    rect f 50 x 100 mm\n\
                beam b of s\n    length = 3 m\n    load dead 10 kN at middle\n\
                P = largest dead of b [kN]\n";
    let mut client = Client::greeted(&[]).await;
    client.open(URI, 1, text).await;
    let lenses = client.result("textDocument/codeLens", document()).await;
    let mut said = Vec::new();
    for lens in lenses.as_array().expect("lenses") {
        let shown = client.result("codeLens/resolve", lens.clone()).await;
        let words = shown["command"]["title"]
            .as_str()
            .expect("words")
            .to_owned();
        said.push((
            lens["range"]["start"]["line"].as_u64().expect("a line"),
            words,
        ));
    }
    // M = 10 kN * 3 m / 4 = 7.5 kN*m; W = 50*100^2/6 mm^3; 7.5e6/83333 = 90 MPa; 90/165
    for expected in [
        (6, "limits used to 54.55 % (compression)"),
        (6, "1 use"),
        (9, "governed by b.compression, top, at 1.5 m"),
    ] {
        assert!(
            said.iter()
                .any(|(line, words)| (*line, words.as_str()) == expected),
            "{said:?}"
        );
    }
}

#[tokio::test]
async fn a_hint_explains_itself_and_leads_on() {
    let capabilities = json!({"textDocument": {"inlayHint": {"resolveSupport": {"properties": ["tooltip", "label.location"]}}}});
    let mut client = Client::greeted_with(json!({"capabilities": capabilities})).await;
    client.open(URI, 1, TEXT).await;
    let mut params = document();
    params["range"] =
        json!({"start": {"line": 3, "character": 0}, "end": {"line": 6, "character": 0}});
    let hints = client
        .result("textDocument/inlayHint", params.clone())
        .await;
    assert!(hints[0]["label"][0].get("location").is_none());
    let shown = client.result("inlayHint/resolve", hints[0].clone()).await;
    let tooltip = shown["tooltip"]["value"].as_str().expect("a tooltip");
    assert!(tooltip.contains("2 mm * 3 mm"), "{tooltip}");
    assert_eq!(
        shown["label"][0]["location"]["range"]["start"],
        json!({"line": 2, "character": 0})
    );
    let last = hints
        .as_array()
        .and_then(|hints| hints.last())
        .expect("a hint")
        .clone();
    let shown = client.result("inlayHint/resolve", last).await;
    let parts = shown["label"].as_array().expect("parts");
    let led = parts
        .iter()
        .find(|part| part["location"].is_object())
        .expect("a part that leads on");
    assert_eq!(led["location"]["range"]["start"]["line"], 5);
    // One that is no longer what it was stays as it is.
    client.change(URI, 2, json!([change(2, 4, 5, "7")])).await;
    let shown = client.result("inlayHint/resolve", hints[0].clone()).await;
    assert_eq!(shown["label"], hints[0]["label"]);
}

/// 2 kN/m * (3 m)^2/8 = 2.25 kN*m
#[tokio::test]
async fn a_tooltip_lists_every_name_that_a_value_uses() {
    let at_once = json!({"textDocument": {"inlayHint": {"resolveSupport": {"properties": []}}}});
    let mut client = Client::greeted_with(json!({"capabilities": at_once})).await;
    let shared = "file:///work/spans%20(old).haunch";
    client.open(shared, 1, "\nL = 3 m\n").await;
    let uri = "file:///work/a.haunch";
    let text = "use \"spans (old).haunch\" as p\nw = 2 kN/m\nsection s\n    rect f 60 x 100 mm\nk(x) = x/8\n\
                # one\n# two\nN = k(w*p.L^2) + w*p.L^2*0 [kN*m]\nW = s.section_modulus_top*2\n";
    client.open(uri, 1, text).await;
    let hints = client
        .result(
            "textDocument/inlayHint",
            json!({"textDocument": {"uri": uri},
                "range": {"start": {"line": 7, "character": 0}, "end": {"line": 8, "character": 9}}}),
        )
        .await;
    let tooltip = |index: usize| {
        let tooltip = hints[index]["tooltip"]["value"].as_str();
        let (_, used) = tooltip
            .expect("a tooltip")
            .split_once("\n\n- ")
            .expect("a list");
        used.to_owned()
    };
    assert_eq!(
        tooltip(0),
        "[`k(w*p.L^2)`](file:///work/a.haunch#L5) `= 2.250 kN·m`\n\
         - [`w`](file:///work/a.haunch#L2) `= 2.000 kN/m`\n\
         - [`p.L`](file:///work/spans%20%28old%29.haunch#L2) `= 3.000 m`"
    );
    assert_eq!(
        tooltip(1),
        "[`s.section_modulus_top`](file:///work/a.haunch#L3) `= 100000 mm³`"
    );
    assert_eq!(hints[0]["label"].as_array().map(Vec::len), Some(1));
    assert_eq!(hints[0]["label"][0]["value"], " = 2.250");
}
