//! A Rust file as a flat row of tokens with their lines. Comments are gone, a string is one token with its quotes, and
//! brackets are tokens of their own, so that a check can look for a few words in a row without being misled by prose.

use proc_macro2::{Delimiter, Group, LexError, TokenStream, TokenTree};

/// One token.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Token {
    /// As it is written; punctuation is one character a token.
    pub text: String,
    /// Its line, counted from one.
    pub line: usize,
}

/// The tokens of a file that end up in the product, and the names of the test modules that stand in files of their own.
#[derive(Debug, Default)]
pub struct Product {
    /// All tokens but those of items under `#[cfg(test)]` or `#[test]`.
    pub tokens: Vec<Token>,
    /// Every `name` of `#[cfg(test)] mod name;`.
    pub test_modules: Vec<String>,
}

/// All tokens of a file.
pub fn all(source: &str) -> Result<Vec<Token>, LexError> {
    let mut tokens = Vec::new();
    flatten(source.parse()?, &mut tokens, None);
    Ok(tokens)
}

/// The tokens of a file without its tests.
pub fn product(source: &str) -> Result<Product, LexError> {
    let mut product = Product::default();
    flatten(source.parse()?, &mut product.tokens, Some(&mut product.test_modules));
    Ok(product)
}

/// Whether the tokens from `start` on begin with these texts.
pub fn begins(tokens: &[Token], start: usize, texts: &[&str]) -> bool {
    tokens
        .get(start..start + texts.len())
        .is_some_and(|found| found.iter().zip(texts).all(|(token, text)| token.text == *text))
}

/// The index behind the bracket that closes the one at `open`.
pub fn behind_group(tokens: &[Token], open: usize) -> usize {
    let mut depth = 0_usize;
    for (index, token) in tokens.iter().enumerate().skip(open) {
        match token.text.as_str() {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => {
                depth = depth.saturating_sub(1);
                if depth == 0 {
                    return index + 1;
                }
            }
            _ => {}
        }
    }
    tokens.len()
}

/// Where a list for test modules is given, tests are left out and the list is filled.
fn flatten(stream: TokenStream, tokens: &mut Vec<Token>, mut test_modules: Option<&mut Vec<String>>) {
    let trees: Vec<TokenTree> = stream.into_iter().collect();
    let mut index = 0;
    while index < trees.len() {
        if let Some(modules) = test_modules.as_deref_mut() {
            if is_punct(trees.get(index), '#') && is_test_group(trees.get(index + 1)) {
                index = behind_item(&trees, index + 2, modules);
                continue;
            }
            // `#![cfg(test)]` takes all that follows it in the file or block out of the product.
            if is_punct(trees.get(index), '#')
                && is_punct(trees.get(index + 1), '!')
                && is_test_group(trees.get(index + 2))
            {
                return;
            }
        }
        match &trees[index] {
            TokenTree::Group(group) => {
                let (open, close) = brackets(group);
                push(tokens, open, group.span_open().start().line);
                flatten(group.stream(), tokens, test_modules.as_deref_mut());
                push(tokens, close, group.span_close().start().line);
            }
            other => push(tokens, &other.to_string(), other.span().start().line),
        }
        index += 1;
    }
}

fn push(tokens: &mut Vec<Token>, text: &str, line: usize) {
    if !text.is_empty() {
        tokens.push(Token { text: text.to_owned(), line });
    }
}

fn brackets(group: &Group) -> (&'static str, &'static str) {
    match group.delimiter() {
        Delimiter::Parenthesis => ("(", ")"),
        Delimiter::Bracket => ("[", "]"),
        Delimiter::Brace => ("{", "}"),
        Delimiter::None => ("", ""),
    }
}

fn is_punct(tree: Option<&TokenTree>, mark: char) -> bool {
    matches!(tree, Some(TokenTree::Punct(punct)) if punct.as_char() == mark)
}

fn is_test_group(tree: Option<&TokenTree>) -> bool {
    let Some(TokenTree::Group(group)) = tree else {
        return false;
    };
    let text: String = group.stream().to_string().split_whitespace().collect();
    group.delimiter() == Delimiter::Bracket && (text == "cfg(test)" || text == "test")
}

/// The index behind the item that starts at `start`: behind its first semicolon or its first block in braces.
fn behind_item(trees: &[TokenTree], start: usize, test_modules: &mut Vec<String>) -> usize {
    for (index, tree) in trees.iter().enumerate().skip(start) {
        match tree {
            TokenTree::Punct(punct) if punct.as_char() == ';' => {
                if let Some([TokenTree::Ident(word), TokenTree::Ident(name)]) = trees[..index].last_chunk::<2>()
                    && word == "mod"
                {
                    test_modules.push(name.to_string());
                }
                return index + 1;
            }
            TokenTree::Group(group) if group.delimiter() == Delimiter::Brace => return index + 1,
            _ => {}
        }
    }
    trees.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(tokens: &[Token]) -> Vec<&str> {
        tokens.iter().map(|token| token.text.as_str()).collect()
    }

    #[test]
    fn comments_are_gone_and_strings_are_whole() {
        let source = "// std::fs\n/* std::env /* nested */ */\nlet a = \"std::net // x\"; let b = 'c';";
        let tokens = all(source).unwrap();
        assert_eq!(words(&tokens), ["let", "a", "=", "\"std::net // x\"", ";", "let", "b", "=", "'c'", ";"]);
        assert!(tokens.iter().all(|token| token.line == 3));
    }

    #[test]
    fn lifetimes_and_raw_strings_do_not_mislead() {
        let tokens = all("fn f<'a>(x: &'a str) { r#\"}\"# }").unwrap();
        assert_eq!(words(&tokens).last(), Some(&"}"));
        assert!(words(&tokens).contains(&"r#\"}\"#"));
    }

    #[test]
    fn tests_are_left_out_of_the_product_and_nothing_else_is() {
        let source = "fn a() {}\n#[cfg(test)]\n#[allow(dead_code)]\nmod tests { fn b() {} }\n\
                      #[test]\nfn c() {}\n#[cfg(test)]\nuse x::{y};\nfn d() {}\n";
        let product = product(source).unwrap();
        let found: Vec<&str> = words(&product.tokens);
        assert_eq!(found, ["fn", "a", "(", ")", "{", "}", ";", "fn", "d", "(", ")", "{", "}"]);
        assert!(product.test_modules.is_empty());
    }

    #[test]
    fn a_feature_does_not_make_a_test() {
        let product = product("#[cfg(any(test, feature = \"x\"))]\nfn a() {}").unwrap();
        assert!(words(&product.tokens).contains(&"a"));
    }

    #[test]
    fn test_modules_in_files_of_their_own_are_named() {
        let product = product("#[cfg(test)]\npub mod cases;\nmod chain;").unwrap();
        assert_eq!(product.test_modules, ["cases"]);
        assert_eq!(words(&product.tokens), ["mod", "chain", ";"]);
    }

    #[test]
    fn a_file_wholly_for_tests_has_no_product() {
        assert!(product("#![cfg(test)]\nfn a() {}").unwrap().tokens.is_empty());
    }

    #[test]
    fn groups_end_where_they_should() {
        let tokens = all("a { b ( c ) } d").unwrap();
        assert_eq!(tokens[behind_group(&tokens, 1)].text, "d");
        assert!(begins(&tokens, 2, &["b", "("]));
        assert!(!begins(&tokens, 7, &["d", "e"]));
    }

    #[test]
    fn text_that_is_no_rust_is_an_error() {
        assert!(all("fn a() { (").is_err());
    }
}
