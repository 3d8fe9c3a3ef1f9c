//! Changes that are offered at a place, made as a client makes them.

mod support;

use haunch_calc::findings::ALL;
use haunch_calc::page::{Page, Shows};
use haunch_calc::{Change, Host};
use serde_json::{Value, json};
use support::model::Model;
use support::{Client, able};

const URI: &str = "file:///work/page.haunch";
const ENCODINGS: [&str; 3] = ["utf-8", "utf-16", "utf-32"];

async fn client(encoding: &str) -> Client {
    let capabilities = json!({
        "general": {"positionEncodings": [encoding]},
        "textDocument": {"codeAction": {"codeActionLiteralSupport": {"codeActionKind": {"valueSet": []}}}}
    });
    Client::greeted_with(able(capabilities)).await
}

async fn offered(client: &mut Client, range: &Value, only: &str) -> Vec<Value> {
    let params = json!({
        "textDocument": {"uri": URI},
        "range": range,
        "context": {"diagnostics": [], "only": [only]}
    });
    let found = client.result("textDocument/codeAction", params).await;
    found.as_array().expect("a list").clone()
}

async fn findings(client: &mut Client) -> Vec<Value> {
    let asked = json!({"textDocument": {"uri": URI}});
    let report = client.result("textDocument/diagnostic", asked).await;
    report["items"].as_array().expect("a list").clone()
}

/// The titles of the repairs that the core knows for the findings of a file, by code.
fn repairs(page: &Page, text: &str) -> Vec<(String, Vec<String>)> {
    let mut host = Host::new();
    let mut set = |path: &str, text: &str| {
        let (path, text) = (format!("/work/{path}"), text.to_owned());
        host.apply(Change::SetText { path, text });
    };
    for example in &page.examples {
        if let Shows::File(path) = example.shows {
            set(path, example.text);
        }
    }
    set("page.haunch", text);
    let snapshot = host.snapshot();
    let file = snapshot.file("/work/page.haunch").expect("it was set");
    let findings = snapshot.findings(file);
    let of = |finding: &haunch_calc::Finding| {
        let titles = snapshot
            .repairs(finding)
            .into_iter()
            .map(|repair| repair.title);
        (finding.code.name.to_owned(), titles.collect())
    };
    findings.iter().map(of).collect()
}

#[tokio::test]
async fn every_finding_that_can_be_repaired_has_its_quick_fixes() {
    let mut mended = 0;
    for code in ALL.iter() {
        let page = Page::read(code.page);
        for example in page
            .examples
            .iter()
            .filter(|example| example.shows == Shows::Wrong)
        {
            let mut client = client("utf-16").await;
            for other in &page.examples {
                if let Shows::File(path) = other.shows {
                    client
                        .open(&format!("file:///work/{path}"), 1, other.text)
                        .await;
                }
            }
            client.open(URI, 1, example.text).await;
            let found = findings(&mut client).await;
            let expected = repairs(&page, example.text);
            assert_eq!(found.len(), expected.len(), "{}", code.name);
            for (finding, (name, titles)) in found.iter().zip(expected) {
                assert_eq!(finding["code"], name);
                let fixes = offered(&mut client, &finding["range"], "quickfix").await;
                let own = |fix: &&Value| fix["diagnostics"][0] == *finding;
                let own: Vec<&Value> = fixes.iter().filter(own).collect();
                let offered: Vec<_> = own
                    .iter()
                    .map(|fix| fix["title"].as_str().expect("a title"))
                    .collect();
                assert_eq!(offered, titles, "{name}");
                let Some(first) = own.first() else { continue };
                assert!(
                    own.iter().all(|fix| fix["isPreferred"] == (fix == first)),
                    "{name}"
                );
                assert_eq!(first["kind"], "quickfix");
                let mut model = Model::new(example.text);
                model.apply(&first["edit"]["changes"][URI], "utf-16");
                let mut after = self::client("utf-16").await;
                for other in &page.examples {
                    if let Shows::File(path) = other.shows {
                        after
                            .open(&format!("file:///work/{path}"), 1, other.text)
                            .await;
                    }
                }
                after.open(URI, 1, model.text()).await;
                let left = findings(&mut after).await;
                let same = |found: &[Value]| {
                    let is_it =
                        |one: &&Value| one["code"] == name && one["message"] == finding["message"];
                    found.iter().filter(is_it).count()
                };
                assert!(
                    same(&left) < same(&found),
                    "{name}: {} leaves\n{}",
                    first["title"],
                    model.text()
                );
                mended += 1;
            }
        }
    }
    assert!(mended > 25, "{mended} findings were mended");
}

/// Makes the one change whose title starts so, at the words between `«` and `»`, and gives the text after it.
async fn changed(kind: &str, title: &str, marked: &str) -> String {
    let mut results = Vec::new();
    for encoding in ENCODINGS {
        let text = marked.replace(['«', '»'], "");
        let start = marked.find('«').expect("a mark");
        let end = marked.find('»').expect("its end") - '«'.len_utf8();
        let mut model = Model::new(&text);
        let range =
            json!({"start": model.position(start, encoding), "end": model.position(end, encoding)});
        let mut client = client(encoding).await;
        client.open(URI, 1, &text).await;
        let before = findings(&mut client).await.len();
        let found = offered(&mut client, &range, kind).await;
        let of_title = |one: &&Value| {
            one["title"]
                .as_str()
                .is_some_and(|known| known.starts_with(title))
        };
        let one = found
            .iter()
            .find(of_title)
            .unwrap_or_else(|| panic!("no {title} in {found:?}"));
        model.apply(&one["edit"]["changes"][URI], encoding);
        client.change(URI, 2, json!([{"text": model.text()}])).await;
        assert!(
            findings(&mut client).await.len() <= before,
            "{}",
            model.text()
        );
        results.push(model.text().to_owned());
    }
    assert!(results.iter().all(|one| *one == results[0]), "{results:?}");
    results.swap_remove(0)
}

#[tokio::test]
async fn a_quantity_in_another_unit() {
    assert_eq!(
        changed(
            "refactor.rewrite",
            "Write 2.5 m",
            "𝜎 = «»2500 mm\nb = 𝜎*2\n"
        )
        .await,
        "𝜎 = 2.5 m\nb = 𝜎*2\n"
    );
}

#[tokio::test]
async fn an_expression_gets_a_line_of_its_own() {
    assert_eq!(
        changed(
            "refactor.extract",
            "",
            "𝜎 = 2 mm\r\nA = 𝜎 + «𝜎*3»/2  [mm]\r\nb = A\r\n"
        )
        .await,
        "𝜎 = 2 mm\r\nvalue_1 = 𝜎*3\r\nA = 𝜎 + value_1/2  [mm]\r\nb = A\r\n"
    );
}

#[tokio::test]
async fn a_value_gives_way_to_its_expression() {
    assert_eq!(
        changed(
            "refactor.inline",
            "",
            "b = 2 mm\n𝜎 = b + 1 mm\nA = b*«»𝜎  [mm^2]\nc = A\n"
        )
        .await,
        "b = 2 mm\nA = b*(b + 1 mm)  [mm^2]\nc = A\n"
    );
}

#[tokio::test]
async fn a_missing_unit_is_added() {
    assert_eq!(
        changed("quickfix", "Write 2 mm", "a = 3 m\n𝜎 = a + «»2\nb = 𝜎\n").await,
        "a = 3 m\n𝜎 = a + 2 mm\nb = 𝜎\n"
    );
}

#[tokio::test]
async fn the_value_becomes_a_check() {
    let text = "results in mm, 4 digits\n𝜎 = «»10 mm/3  [mm]\nb = 𝜎\n";
    assert_eq!(
        changed("refactor.rewrite", "Write the present value", text).await,
        "results in mm, 4 digits\n𝜎 = 10 mm/3  [mm]\nexpect 𝜎 = 3.333 mm within 0.1 %\nb = 𝜎\n"
    );
}

#[tokio::test]
async fn a_section_is_worked_out_by_hand() {
    let text = "section «»𝜎\n    rect f 120 x 10 mm\n    rect w 8 x 140 mm above f\na = 𝜎.area\n";
    let after = changed("refactor.rewrite", "Write the hand calculation", text).await;
    assert!(
        after.contains("A1 = 120 mm * 10 mm  # f\ny1 = 5 mm\n"),
        "{after}"
    );
    assert!(
        after.contains("expect Ixx = 𝜎.Ixx within 0.01 %\n"),
        "{after}"
    );
}
