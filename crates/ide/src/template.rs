//! Whole blocks to write at once, with places to fill in.

/// A stretch of a template.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    /// Words that stay.
    Words(String),
    /// A place to fill in, with something to start from.
    Hole(String),
}

/// A block that can be written at once: its first word, what it is, and its lines. Between `⟨` and `⟩` stand
/// the places to fill in.
const BLOCKS: &[(&str, &str, &str)] = &[
    (
        "section",
        "a section of two plates",
        "section ⟨name⟩ of ⟨material⟩\n    rect ⟨flange⟩ ⟨120⟩ x ⟨10⟩ mm\n    rect ⟨web⟩ ⟨8⟩ x ⟨140⟩ mm above ⟨flange⟩\n",
    ),
    (
        "material",
        "a material with its limits",
        "material ⟨name⟩\n    E = ⟨205 GPa⟩\n    density = ⟨7850 kg/m^3⟩\n    limit tension <= ⟨stress⟩\n    limit compression <= ⟨stress⟩\n",
    ),
    (
        "forces",
        "forces on a section",
        "forces ⟨name⟩ on ⟨section⟩\n    M = ⟨moment⟩ ⟨sagging⟩\n    V = ⟨force⟩\n",
    ),
    (
        "beam",
        "a beam on two supports",
        "beam ⟨name⟩ of ⟨section⟩\n    length = ⟨length⟩\n    support pin at start\n    support roller at end\n    load ⟨case⟩ ⟨force⟩ at middle\n    limit deflection <= span/⟨360⟩\n",
    ),
    (
        "sheet",
        "the head of the printed sheet",
        "sheet\n    title = \"⟨what is calculated⟩\"\n    member = \"⟨mark⟩\"\n    revision = \"⟨A⟩\"\n",
    ),
];

/// The blocks that can be written at once, with what each is.
pub(crate) fn blocks() -> impl Iterator<Item = (&'static str, &'static str, Vec<Piece>)> {
    BLOCKS
        .iter()
        .map(|&(word, meaning, text)| (word, meaning, pieces(text)))
}

/// A call with a place for its arguments.
pub(crate) fn call(name: &str) -> Vec<Piece> {
    vec![
        Piece::Words(format!("{name}(")),
        Piece::Hole(String::new()),
        Piece::Words(")".to_owned()),
    ]
}

fn pieces(text: &str) -> Vec<Piece> {
    let mut pieces = Vec::new();
    for part in text.trim_end().split('⟨') {
        match part.split_once('⟩') {
            Some((hole, words)) => {
                pieces.push(Piece::Hole(hole.to_owned()));
                pieces.push(Piece::Words(words.to_owned()));
            }
            None => pieces.push(Piece::Words(part.to_owned())),
        }
    }
    pieces.retain(|piece| *piece != Piece::Words(String::new()));
    pieces
}
