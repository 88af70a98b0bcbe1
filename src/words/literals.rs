//! The texts in a file of code: every string that is not a doc comment.

use proc_macro2::{TokenStream, TokenTree};

/// The strings of a file, in order, without those of its tests.
pub fn of(code: &str) -> Vec<String> {
    let tokens: TokenStream = code.parse().expect("a file of code");
    let mut out = vec![];
    walk(tokens, &mut out);
    out
}

fn walk(tokens: TokenStream, out: &mut Vec<String>) {
    // The last two words before a token: `mod tests { … }`, `doc = "…"`.
    let mut before = [String::new(), String::new()];
    for token in tokens {
        let tests = before == ["mod", "tests"];
        let doc = before == ["doc", "="];
        before = [std::mem::take(&mut before[1]), token.to_string()];
        match token {
            TokenTree::Group(group) if !tests => walk(group.stream(), out),
            TokenTree::Literal(literal) if !doc => {
                if let Ok(text) = syn::parse_str::<syn::LitStr>(&literal.to_string()) {
                    out.push(text.value());
                }
            }
            _ => {}
        }
    }
}

#[test]
fn strings_are_read_and_comments_and_tests_are_not() {
    let code = "/// A doc \"of\" it\nfn a() { say(\"one \\\n   two\", format!(r#\"x{y}\"#)); }\n\
                mod tests { fn b() { \"hidden\"; } }";
    assert_eq!(of(code), ["one two", "x{y}"]);
}
