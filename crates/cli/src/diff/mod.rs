//! `haunch diff`: what changed in meaning between two versions.

mod drawings;
mod html;
mod markdown;
mod parts;
mod sides;
mod terminal;
mod words;

use std::io::{BufWriter, Write};

use haunch_review::baseline::{Baseline, Results, results};
use haunch_review::{Asked, Review, review};
use serde::Serialize;

pub(crate) use sides::{RECORD, from_top};

use crate::arguments::{Compared, DiffFormat, FailOn};
use crate::{DOES_NOT_HOLD, HOLDS, NOT_DONE};

/// The version of the shape of the JSON form.
const SCHEMA: u32 = 1;

/// How a review is shown.
struct View {
    /// The old version in words.
    old: String,
    /// The new version in words.
    new: String,
    /// The margin in words.
    margin: String,
    /// Whether results that no line uses are shown too.
    all: bool,
    /// Results of the old version that are not those on record in it, in words.
    unrecorded: Vec<String>,
}

#[derive(Serialize)]
struct Json<'a> {
    haunch: &'static str,
    schema: u32,
    old: &'a str,
    new: &'a str,
    unrecorded: &'a [String],
    #[serde(flatten)]
    review: &'a Review,
}

/// Compares what is wanted. Returns the exit status.
pub(crate) fn diff(wanted: &Compared, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let mut sides = match sides::sides(wanted) {
        Ok(sides) => sides,
        Err(words) => {
            // With standard error closed there is nobody left to tell.
            let _ = writeln!(err, "haunch: {words}");
            return NOT_DONE;
        }
    };
    let mut view = View {
        old: sides.old.label.clone(),
        new: sides.new.label.clone(),
        margin: format!("{} %", wanted.margin),
        all: wanted.all,
        unrecorded: Vec::new(),
    };
    let record = sides.old.texts.remove(sides::RECORD);
    sides.new.texts.remove(sides::RECORD);
    let parts = parts::parts(&sides, record.is_some());
    let shared = parts::shared(&parts, &sides);
    let told = parts::in_threads(&parts, |part| {
        tell(&part.compute(&sides, &shared), wanted, record.is_some())
    });
    let mut figures = Vec::new();
    let mut results = Results::new();
    let mut reviews = Vec::new();
    for part in told {
        figures.extend(part.figures);
        results.extend(part.results);
        reviews.push(part.review);
    }
    let mut review = Review::joined(reviews);
    figures.sort_by(|(a, _), (b, _)| a.cmp(b));
    if let Some(record) = &record {
        view.unrecorded = unrecorded(record, &results, &sides);
    }
    keep_only(&mut review, &sides.only);
    let written = match wanted.format {
        DiffFormat::Text => out.write_all(terminal::render(&review, &view).as_bytes()),
        DiffFormat::Markdown => out.write_all(markdown::render(&review, &view).as_bytes()),
        DiffFormat::Html => {
            let drawings: Vec<String> = figures.into_iter().map(|(_, figure)| figure).collect();
            out.write_all(html::render(&review, &view, &drawings).as_bytes())
        }
        DiffFormat::Json => json(&review, &view, out),
    };
    if written.and_then(|()| out.flush()).is_err() {
        return NOT_DONE;
    }
    let fails = match wanted.fail_on {
        FailOn::Any => review.results_changed() || !view.unrecorded.is_empty(),
        FailOn::Limit => review.checks_suffer(),
    };
    if fails { DOES_NOT_HOLD } else { HOLDS }
}

/// Writes the JSON form as it is made: of a thousand files it has more text than everything else takes.
fn json(review: &Review, view: &View, out: &mut dyn Write) -> std::io::Result<()> {
    let json = Json {
        haunch: env!("CARGO_PKG_VERSION"),
        schema: SCHEMA,
        old: &view.old,
        new: &view.new,
        unrecorded: &view.unrecorded,
        review,
    };
    let mut out = BufWriter::with_capacity(1 << 16, out);
    serde_json::to_writer_pretty(&mut out, &json)?;
    out.write_all(b"\n")?;
    out.flush()
}

/// What is told of a part.
struct Told {
    review: Review,
    /// The drawings, each with the path of its file.
    figures: Vec<(String, String)>,
    /// The old version's results as they are put on record, where there is a record.
    results: Results,
}

fn tell(computed: &parts::Computed, wanted: &Compared, recorded: bool) -> Told {
    let asked = Asked {
        margin: wanted.margin / 100.0,
        every_result: wanted.all || matches!(wanted.format, DiffFormat::Html | DiffFormat::Json),
    };
    let old_files = computed.pairs.iter().filter_map(|pair| pair.old);
    Told {
        review: review(&computed.old, &computed.new, &computed.pairs, asked),
        figures: match wanted.format {
            DiffFormat::Html => drawings::figures(computed),
            _ => Vec::new(),
        },
        results: old_files
            .filter(|_| recorded)
            .flat_map(|file| results(&computed.old, file))
            .collect(),
    }
}

/// What the old version's own record says otherwise than this program computes from the old version:
/// no line changed there, so another version of the program gave other results.
fn unrecorded(record: &str, found: &Results, sides: &sides::Sides) -> Vec<String> {
    let record = Baseline::read(record);
    record
        .drift(found, |file| sides.old.texts.contains_key(file))
        .into_iter()
        .map(|drift| {
            let said = |text: &Option<String>| text.clone().unwrap_or_else(|| "nothing".to_owned());
            format!(
                "{}: {}  {} by haunch {}, {} by haunch {}",
                drift.file,
                drift.name,
                said(&drift.recorded),
                record.version,
                said(&drift.found),
                env!("CARGO_PKG_VERSION"),
            )
        })
        .collect()
}

/// Keeps what is told of files under these paths, and the changes of other files that are causes of it.
fn keep_only(review: &mut Review, only: &[String]) {
    if only.is_empty() {
        return;
    }
    let is_under = |file: &str| {
        only.iter()
            .any(|path| path.is_empty() || file == path || file.starts_with(&format!("{path}/")))
    };
    review.untried.retain(|file| is_under(file));
    review
        .balances
        .retain(|balance| balance.results.iter().any(|held| is_under(&held.file)));
    review.results.retain(|result| is_under(&result.file));
    review.counted.retain(|file, _| is_under(file));
    review.checks.retain(|check| is_under(&check.file));
    review.concerns.retain(|concern| is_under(&concern.file));
    review.findings.retain(|finding| is_under(&finding.file));
    review.recorded_checks.retain(|words| {
        words
            .split_once(": ")
            .is_none_or(|(file, _)| is_under(file))
    });
    review.files.retain(|file| {
        [&file.old, &file.new]
            .into_iter()
            .flatten()
            .any(|path| is_under(path))
    });
    // What a file lost stands under its old name.
    let files = review.files.iter().filter_map(|file| file.old.clone());
    let names: Vec<String> = files.collect();
    keep_changes(review, |file| {
        is_under(file) || names.iter().any(|name| name == file)
    });
}

/// Keeps the changes of these files and those that are causes of what is told.
fn keep_changes(review: &mut Review, is_told: impl Fn(&str) -> bool) {
    let mut kept: Vec<bool> = review
        .changes
        .iter()
        .map(|change| {
            let places = [&change.old, &change.new].into_iter().flatten();
            places.into_iter().any(|place| is_told(&place.file))
        })
        .collect();
    let causes = review.results.iter().flat_map(|result| &result.causes);
    let causes = causes.chain(review.checks.iter().flat_map(|check| &check.causes));
    let held = review.balances.iter().flat_map(|balance| &balance.changes);
    for &at in causes.map(|cause| &cause.change).chain(held) {
        if let Some(kept) = kept.get_mut(at) {
            *kept = true;
        }
    }
    let mut count = 0;
    let place = |kept: &bool| {
        count += usize::from(*kept);
        count.saturating_sub(1)
    };
    let places: Vec<usize> = kept.iter().map(place).collect();
    let moved = |at: &mut usize| *at = places.get(*at).copied().unwrap_or(*at);
    let results = review.results.iter_mut().map(|result| &mut result.causes);
    let checks = review.checks.iter_mut().map(|check| &mut check.causes);
    for cause in results.chain(checks).flatten() {
        moved(&mut cause.change);
    }
    for balance in &mut review.balances {
        balance.changes.iter_mut().for_each(moved);
    }
    let mut kept = kept.into_iter();
    review.changes.retain(|_| kept.next() == Some(true));
}
