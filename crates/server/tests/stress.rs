//! Thousands of random edits of several documents with every request in between. A model of the documents is
//! kept beside; each sampled answer has to be what a server says that was started on the model's texts alone.
//!
//! The edits are the same on every run; `STRESS_SEED=7 cargo test -p haunch-server --test stress` makes others.

mod support;

use std::collections::BTreeMap;

use serde_json::{Value, json};
use support::dice::Dice;
use support::model::Model;
use support::requests::{About, about};
use support::{Client, change};

const SHARED: &str = "file:///work/shop%20floor/plates.haunch";
const BEAM: &str = "file:///work/shop%20floor/beam.haunch";
const DRAFT: &str = "untitled:Untitled-1";
const ADDRESSES: [&str; 3] = [SHARED, BEAM, DRAFT];

const SHARED_TEXT: &str = "\
# what the shop has
material plate
    E = 205 GPa
    density = 7850 kg/m^3
    limit tension     <= 165 MPa
    limit compression <= 140 MPa

t_usual = 8 mm # thin
𝜎_allowed = 165 MPa
σ(M, W) = M/W [MPa]
";

const BEAM_TEXT: &str = "\
sheet
    title = \"Hoist rail\"
results in mm, kN, kN*m, MPa, 4 digits

use \"plates.haunch\" as shop

rated = 6 kN
a = 1.2 m
M = rated*a*
    1.1 [kN*m]

section rail of shop.plate
    rect flange 120 x 10 mm
    rect web  shop.t_usual x 140 mm above flange
    point edge at top

forces lift on rail
    M = 6 kN*m sagging
    limit compression <= 130 MPa

𝜎 = M/rail.section_modulus_bottom [MPa]
verify 𝜎 <= shop.𝜎_allowed
answer 𝜎 \"stress\"
";

const DRAFT_TEXT: &str = "\
section plank
    rect board 200 x 50 mm

beam walk of plank
    spans = 3 m, 2 m
    E = 11 GPa
    support left pin at 0 m
    support middle roller at 3 m
    support right roller at 5 m
    load crowd 2 kN/m everywhere

ȳ = plank.ybar
deflection = walk.deflection_max [mm]
area = 200 mm*50 mm + 1 kN
";

/// What is put into a text: parts of lines, letters of every width, ends of lines of every kind.
const PIECES: [&str; 34] = [
    " ", "1", "0", ".", "mm", " kN", "*", " + 3 mm", "/", "(", ")", "[", "]", "=", "#", "\"", "a",
    "M", "σ", "𝜎", "²", "ȳ", "shop.", "rail.Ixx", "1e9", "e\u{301}", "\n", "\r\n", "\r", "    ",
    "x", ",", "_", "-",
];

/// Whole lines.
const LINES: [&str; 14] = [
    "b = 3 m",
    "a = 1.4 m",
    "depth = rail.height [mm]",
    "    rect web 9 x 150 mm above flange",
    "    circle eye 20 mm above web",
    "expect M = 7.92 kN*m within 1 %",
    "allow unused-value",
    "use \"plates.haunch\" as other",
    "c = shop.t_usual + 2 mm",
    "section rail",
    "    load point 3 kN at 1 m",
    "d = unknown*2 [mm^2]",
    "f(x) = x^2 + 1 m^2 [m^2]",
    "g = f(3 m) + f(2 ft)",
];

fn capabilities(encoding: &str, drops_stale: bool) -> Value {
    let mut general = json!({"positionEncodings": [encoding]});
    if drops_stale {
        general["staleRequestSupport"] = json!({"cancel": true, "retryOnContentModified": []});
    }
    json!({"capabilities": {
        "general": general,
        "textDocument": {
            "publishDiagnostics": {"relatedInformation": true, "tagSupport": {"valueSet": [1]}},
            "codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": []}}},
            "documentSymbol": {"hierarchicalDocumentSymbolSupport": true},
            "hover": {"contentFormat": ["markdown"]},
            "completion": {"completionItem": {"snippetSupport": true}}
        },
        "workspace": {"workspaceEdit": {"documentChanges": true}}
    }})
}

/// The documents that are open, with their versions.
#[derive(Clone, Default)]
struct Documents(BTreeMap<&'static str, (Model, i64)>);

impl Documents {
    fn any(&self, dice: &mut Dice) -> Option<&'static str> {
        let open: Vec<_> = self.0.keys().copied().collect();
        (!open.is_empty()).then(|| open[dice.roll(open.len())])
    }

    async fn open_in(&self, client: &mut Client) {
        for (address, (model, version)) in &self.0 {
            client.open(address, *version, model.text()).await;
        }
    }
}

/// A request at a random place of a document.
fn request(dice: &mut Dice, uri: &str, model: &Model, encoding: &str) -> (&'static str, Value) {
    let offset = model.any_offset(dice);
    let other = model.offset_after(offset, dice.roll(30));
    let position = model.position(offset, encoding);
    let range = json!({"start": position, "end": model.position(other, encoding)});
    let end = json!({"line": model.text().lines().count() + 2, "character": 0});
    let everything = json!({"start": {"line": 0, "character": 0}, "end": end});
    let placed = about(&[About::Place]);
    let whole = about(&[About::Document, About::Workspace]);
    let methods = if dice.roll(2) == 0 { &placed } else { &whole };
    let method = methods[dice.roll(methods.len())];
    let mut params = json!({"textDocument": {"uri": uri}});
    let more = match method {
        "textDocument/references" => {
            json!({"position": position, "context": {"includeDeclaration": dice.roll(2) == 0}})
        }
        "textDocument/rename" => {
            let names = ["𝜎_new", "a", "t", "2", "sqrt"];
            json!({"position": position, "newName": names[dice.roll(names.len())]})
        }
        "textDocument/onTypeFormatting" => {
            json!({"position": position, "ch": "\n", "options": {"tabSize": 4, "insertSpaces": true}})
        }
        "textDocument/semanticTokens/range" => json!({"range": range}),
        "textDocument/inlayHint" => {
            json!({"range": if dice.roll(2) == 0 { &everything } else { &range }})
        }
        "textDocument/selectionRange" => json!({"positions": [position]}),
        "textDocument/codeAction" => {
            let range = if dice.roll(3) == 0 {
                &everything
            } else {
                &range
            };
            json!({"range": range, "context": {"diagnostics": []}})
        }
        "textDocument/formatting" => json!({"options": {"tabSize": 4, "insertSpaces": true}}),
        "textDocument/rangeFormatting" => {
            json!({"range": range, "options": {"tabSize": 4, "insertSpaces": true}})
        }
        "workspace/diagnostic" => json!({"previousResultIds": []}),
        "workspace/symbol" => {
            let queries = ["", "σ", "ra", "𝜎"];
            json!({"query": queries[dice.roll(queries.len())]})
        }
        "workspace/willRenameFiles" => {
            json!({"files": [{"oldUri": SHARED, "newUri": "file:///work/steel/plates.haunch"}]})
        }
        _ if placed.contains(&method) => json!({"position": position}),
        _ => json!({}),
    };
    for (key, value) in more.as_object().expect("an object") {
        params[key] = value.clone();
    }
    (method, params)
}

/// Random changes of a document, as the protocol counts them: each in the text after the one before.
fn edits(dice: &mut Dice, model: &mut Model, encoding: &str, original: &str) -> Vec<Value> {
    if dice.roll(40) == 0 {
        *model = Model::new(original);
        return vec![json!({"text": original})];
    }
    let mut changes = Vec::new();
    for _ in 0..1 + dice.roll(3) {
        let (from, to, piece) = match dice.roll(8) {
            0 => {
                let start = model.line_start(model.any_offset(dice));
                (
                    start,
                    start,
                    format!("{}{}", LINES[dice.roll(LINES.len())], model.ending()),
                )
            }
            1 => {
                let start = model.line_start(model.any_offset(dice));
                (start, model.next_line(start), String::new())
            }
            2 | 3 => {
                let from = model.any_offset(dice);
                (from, model.offset_after(from, dice.roll(6)), String::new())
            }
            _ => {
                let from = model.any_offset(dice);
                let to = model.offset_after(from, dice.roll(3));
                (from, to, PIECES[dice.roll(PIECES.len())].to_owned())
            }
        };
        let range =
            json!({"start": model.position(from, encoding), "end": model.position(to, encoding)});
        changes.push(json!({"range": range, "text": piece}));
        model.replace(from, to, &piece);
    }
    changes
}

/// An answer without what names the server's own lines and earlier answers; lists whose order nobody promises are
/// sorted.
fn comparable(method: &str, mut answer: Value) -> Value {
    fn strip(value: &mut Value) {
        match value {
            Value::Array(items) => items.iter_mut().for_each(strip),
            Value::Object(fields) => {
                for name in ["data", "resultId"] {
                    if fields.get(name).is_some_and(|field| !field.is_array()) {
                        fields.remove(name);
                    }
                }
                fields.values_mut().for_each(strip);
            }
            _ => {}
        }
    }
    strip(&mut answer);
    let list = match method {
        "workspace/diagnostic" => answer.pointer_mut("/result/items"),
        "textDocument/rename" | "workspace/willRenameFiles" => {
            answer.pointer_mut("/result/documentChanges")
        }
        "workspace/symbol" | "textDocument/references" => answer.pointer_mut("/result"),
        _ => None,
    };
    if let Some(Value::Array(items)) = list {
        items.sort_by_key(ToString::to_string);
    }
    answer.as_object_mut().expect("an answer").remove("id");
    answer
}

/// Requests that were made of one state, and the state.
struct Moment {
    documents: Documents,
    asked: Vec<(&'static str, Value, i64, bool)>,
}

/// Every token lies in its line, and none on another.
fn check_tokens(model: &Model, encoding: &str, answer: &Value) {
    let Some(data) = answer["result"]["data"].as_array() else {
        return;
    };
    let numbers: Vec<u64> = data.iter().filter_map(Value::as_u64).collect();
    let (mut line, mut start, mut end) = (0, 0, 0);
    for token in numbers.chunks_exact(5) {
        (line, start) = match token[0] {
            0 => (line, start + token[1]),
            lines => {
                end = 0;
                (line + lines, token[1])
            }
        };
        assert!(
            token[2] > 0 && start >= end,
            "an empty token, or one on another: {token:?}"
        );
        end = start + token[2];
        assert!(
            end <= model.width(line as usize, encoding) as u64,
            "past the end of line {line}: {token:?}"
        );
    }
}

async fn session(encoding: &'static str, drops_stale: bool, rounds: usize, seed: u64) {
    let originals = [
        SHARED_TEXT.to_owned(),
        BEAM_TEXT.replace('\n', "\r\n"),
        DRAFT_TEXT.to_owned(),
    ];
    let original = |uri: &str| {
        &originals[ADDRESSES
            .iter()
            .position(|known| *known == uri)
            .expect("known")]
    };
    let greeting = capabilities(encoding, drops_stale);
    let other = std::env::var("STRESS_SEED")
        .ok()
        .and_then(|seed| seed.parse::<u64>().ok());
    let mut dice = Dice(seed + 1_000 * other.unwrap_or(0));
    let mut client = Client::greeted_with(greeting.clone()).await;
    let mut documents = Documents::default();
    for uri in ADDRESSES {
        documents.0.insert(uri, (Model::new(original(uri)), 1));
    }
    documents.open_in(&mut client).await;
    let mut moments = Vec::new();
    let mut version = 1;
    for _ in 0..rounds {
        version += 1;
        match documents.any(&mut dice) {
            Some(uri) if dice.roll(60) == 0 => {
                documents.0.remove(uri);
                let document = json!({"textDocument": {"uri": uri}});
                client.notify("textDocument/didClose", document).await;
            }
            None => {}
            Some(uri) => {
                let (model, known) = documents.0.get_mut(uri).expect("it is open");
                let changes = edits(&mut dice, model, encoding, original(uri));
                *known = version;
                client.change(uri, version, Value::Array(changes)).await;
            }
        }
        for uri in ADDRESSES {
            if !documents.0.contains_key(uri) && dice.roll(10) == 0 {
                documents
                    .0
                    .insert(uri, (Model::new(original(uri)), version));
                client.open(uri, version, original(uri)).await;
            }
        }
        if dice.roll(6) == 0 {
            let mut moment = Moment {
                documents: documents.clone(),
                asked: Vec::new(),
            };
            for _ in 0..1 + dice.roll(8) {
                let Some(uri) = documents.any(&mut dice) else {
                    continue;
                };
                let (method, params) = request(&mut dice, uri, &documents.0[uri].0, encoding);
                let id = client.ask(method, params.clone()).await;
                let is_cancelled = dice.roll(12) == 0;
                if is_cancelled {
                    client.notify("$/cancelRequest", json!({"id": id})).await;
                }
                moment.asked.push((method, params, id, is_cancelled));
            }
            moments.push(moment);
        }
        if dice.roll(50) == 0 {
            let id = client.ask("rehearsal/panic", Value::Null).await;
            assert_eq!(client.answer(id).await["error"]["code"], -32603);
        }
    }
    let mut compared = 0;
    for moment in moments {
        let mut answers = Vec::new();
        for (method, params, id, is_cancelled) in moment.asked {
            let answer = client.answer(id).await;
            let dropped = match answer["error"]["code"].as_i64() {
                Some(-32800) => is_cancelled,
                Some(-32801) => drops_stale,
                _ => false,
            };
            if !dropped {
                answers.push((method, params, answer));
            }
        }
        let mut fresh = Client::greeted_with(greeting.clone()).await;
        moment.documents.open_in(&mut fresh).await;
        for (method, params, answer) in answers {
            let uri = params["textDocument"]["uri"].as_str().expect("an address");
            let model = &moment.documents.0[uri].0;
            if method == "textDocument/semanticTokens/full" {
                check_tokens(model, encoding, &answer);
            }
            let expected = fresh.call(method, params.clone()).await;
            let (is, should) = (comparable(method, answer), comparable(method, expected));
            assert_eq!(is, should, "{method} {params}\n{}", model.text());
            compared += 1;
        }
    }
    assert!(compared > rounds / 3, "{compared} answers were compared");
    compare_at_rest(&mut client, &documents, greeting).await;
}

/// After the last edit: texts, findings, and what is asked for in two steps.
async fn compare_at_rest(client: &mut Client, documents: &Documents, greeting: Value) {
    let mut fresh = Client::greeted_with(greeting).await;
    documents.open_in(&mut fresh).await;
    for (uri, (model, _)) in &documents.0 {
        assert_eq!(client.text(uri).await, model.text(), "{uri}");
        // A version is sent again whenever another document changes what is found in it; the last one counts.
        let asked = json!({"textDocument": {"uri": uri}});
        let should = fresh.result("textDocument/diagnostic", asked).await["items"].take();
        let is_of = |message: &Value| {
            message["method"] == "textDocument/publishDiagnostics"
                && message["params"]["uri"] == *uri
        };
        client
            .other(|message| is_of(message) && message["params"]["diagnostics"] == should)
            .await;
        let lines =
            json!({"start": {"line": 0, "character": 0}, "end": {"line": 999, "character": 0}});
        let document = json!({"textDocument": {"uri": uri}, "range": lines});
        for (ask, resolve) in [
            ("textDocument/inlayHint", "inlayHint/resolve"),
            ("textDocument/codeLens", "codeLens/resolve"),
        ] {
            let (is, should) = (
                client.result(ask, document.clone()).await,
                fresh.result(ask, document.clone()).await,
            );
            let items = |list: &Value| list.as_array().expect("a list").clone();
            assert_eq!(items(&is).len(), items(&should).len());
            for (one, other) in items(&is).into_iter().zip(items(&should)) {
                let one = client.call(resolve, one).await;
                let other = fresh.call(resolve, other).await;
                assert_eq!(comparable(resolve, one), comparable(resolve, other));
            }
        }
    }
}

#[tokio::test(flavor = "multi_thread")]
async fn every_answer_is_that_of_a_fresh_server_utf_8() {
    session("utf-8", false, 1_500, 1).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_answer_is_that_of_a_fresh_server_utf_16() {
    session("utf-16", false, 1_500, 2).await;
}

#[tokio::test(flavor = "multi_thread")]
async fn every_answer_is_that_of_a_fresh_server_utf_32_dropping_stale_ones() {
    session("utf-32", true, 1_500, 3).await;
}

/// One document that grows and shrinks a character at a time, as somebody types.
#[tokio::test(flavor = "multi_thread")]
async fn typed_a_letter_at_a_time() {
    let mut client = Client::greeted(&["utf-16"]).await;
    let mut model = Model::new("");
    client.open(DRAFT, 0, "").await;
    let mut version = 0;
    for letter in BEAM_TEXT.chars() {
        version += 1;
        let end = model.position(model.text().len(), "utf-16");
        let edit = json!({"range": {"start": end, "end": end}, "text": letter.to_string()});
        client.change(DRAFT, version, json!([edit])).await;
        let length = model.text().len();
        model.replace(length, length, &letter.to_string());
    }
    assert_eq!(client.text(DRAFT).await, BEAM_TEXT);
    let whole = client.diagnostics(DRAFT, Some(version)).await;
    let mut fresh = Client::greeted(&["utf-16"]).await;
    fresh.open(DRAFT, version, BEAM_TEXT).await;
    assert_eq!(whole, fresh.diagnostics(DRAFT, Some(version)).await);
    client
        .change(DRAFT, version + 1, json!([change(0, 0, 0, "x")]))
        .await;
    client.diagnostics(DRAFT, Some(version + 1)).await;
}
