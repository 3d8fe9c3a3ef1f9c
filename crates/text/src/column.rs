/// How a client counts columns.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Encoding {
    /// Bytes.
    Utf8,
    /// 16-bit units, the protocol's default.
    #[default]
    Utf16,
    /// Unicode scalar values.
    Utf32,
}

impl Encoding {
    fn width(self, character: char) -> u32 {
        match self {
            Encoding::Utf8 => character.len_utf8() as u32,
            Encoding::Utf16 => character.len_utf16() as u32,
            Encoding::Utf32 => 1,
        }
    }
}

/// The column of byte `byte` of `line` in the client's count. Past the end is the end; inside a
/// character is its start.
pub fn column_to_encoding(line: &str, byte: u32, encoding: Encoding) -> u32 {
    if encoding == Encoding::Utf8 || line.is_ascii() {
        return byte.min(line.len() as u32);
    }
    let mut column = 0;
    for (start, character) in line.char_indices() {
        if start + character.len_utf8() > byte as usize {
            break;
        }
        column += encoding.width(character);
    }
    column
}

/// The byte of `line` at a column of the client's count. Past the end is the end; inside a
/// character (between two surrogates) is its start.
pub fn column_from_encoding(line: &str, column: u32, encoding: Encoding) -> u32 {
    let mut passed = 0;
    for (start, character) in line.char_indices() {
        passed += encoding.width(character);
        if passed > column {
            return start as u32;
        }
    }
    line.len() as u32
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_outside_the_basic_plane() {
        let line = "a𝜎ȳ=1";
        assert_eq!(column_to_encoding(line, 5, Encoding::Utf16), 3);
        assert_eq!(column_to_encoding(line, 5, Encoding::Utf32), 2);
        assert_eq!(column_from_encoding(line, 3, Encoding::Utf16), 5);
        assert_eq!(column_from_encoding(line, 2, Encoding::Utf16), 1);
        assert_eq!(column_from_encoding(line, 2, Encoding::Utf32), 5);
        assert_eq!(column_from_encoding(line, 99, Encoding::Utf16), 9);
        assert_eq!(column_from_encoding(line, 2, Encoding::Utf8), 1);
    }

    #[test]
    fn every_boundary_survives_the_round_trip() {
        let line = "σ = 𝜎₁·b² − ȳ";
        for encoding in [Encoding::Utf8, Encoding::Utf16, Encoding::Utf32] {
            for (byte, _) in line.char_indices() {
                let column = column_to_encoding(line, byte as u32, encoding);
                assert_eq!(column_from_encoding(line, column, encoding), byte as u32);
            }
        }
    }
}
