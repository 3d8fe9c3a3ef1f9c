//! Values of the arithmetic expressions in the data file: `+ - * / **`, names and calls.

/// What names and calls mean.
pub(crate) trait Names {
    fn value(&self, name: &str) -> f64;
    fn call(&self, name: &str, arguments: &[f64]) -> f64;
}

/// The value of an expression. Panics, which fails the test, on anything it does not know.
pub(crate) fn evaluate(text: &str, names: &dyn Names) -> f64 {
    let mut reader = Reader { rest: text, names };
    let value = reader.sum();
    assert!(
        reader.rest.trim().is_empty(),
        "cannot read {text:?} from {:?}",
        reader.rest
    );
    value
}

struct Reader<'a> {
    rest: &'a str,
    names: &'a dyn Names,
}

impl Reader<'_> {
    fn takes(&mut self, sign: &str) -> bool {
        self.rest = self.rest.trim_start();
        match self.rest.strip_prefix(sign) {
            Some(rest) if sign != "*" || !rest.starts_with('*') => {
                self.rest = rest;
                true
            }
            _ => false,
        }
    }

    fn sum(&mut self) -> f64 {
        let mut value = self.product();
        loop {
            if self.takes("+") {
                value += self.product();
            } else if self.takes("-") {
                value -= self.product();
            } else {
                return value;
            }
        }
    }

    fn product(&mut self) -> f64 {
        let mut value = self.negated();
        loop {
            if self.takes("*") {
                value *= self.negated();
            } else if self.takes("/") {
                value /= self.negated();
            } else {
                return value;
            }
        }
    }

    fn negated(&mut self) -> f64 {
        if self.takes("-") {
            -self.negated()
        } else {
            self.power()
        }
    }

    fn power(&mut self) -> f64 {
        let base = self.atom();
        if self.takes("**") {
            libm::pow(base, self.negated())
        } else {
            base
        }
    }

    fn atom(&mut self) -> f64 {
        if self.takes("(") {
            let value = self.sum();
            assert!(
                self.takes(")"),
                "no closing parenthesis before {:?}",
                self.rest
            );
            return value;
        }
        let word = self.word();
        if word.starts_with(|c: char| c.is_ascii_digit()) {
            return word.parse().expect("a number");
        }
        if !self.takes("(") {
            return self.names.value(&word);
        }
        let mut arguments = Vec::new();
        while !self.takes(")") {
            arguments.push(self.sum());
            self.takes(",");
        }
        self.names.call(&word, &arguments)
    }

    /// A name, or a number with its exponent.
    fn word(&mut self) -> String {
        let mut end = 0;
        for c in self.rest.chars() {
            let exponent = self.rest[..end].ends_with('e')
                && self.rest.starts_with(|c: char| c.is_ascii_digit());
            if !(c.is_alphanumeric() || c == '.' || c == '_' || (exponent && c == '-')) {
                break;
            }
            end += c.len_utf8();
        }
        let (word, rest) = self.rest.split_at(end);
        self.rest = rest;
        word.to_owned()
    }
}
