//! Says in words what the schema expects, and what stands there instead.

use jsonc_parser::ast::Value;
use serde_json::Value as Rule;

use super::error::Quote;
use super::file::COLOUR;

/// Follows a reference to where the rule is written.
pub(super) fn resolve<'r>(schema: &'r Rule, rule: &'r Rule) -> &'r Rule {
    let Some(name) = rule["$ref"].as_str() else {
        return rule;
    };
    let pointer = name.trim_start_matches('#');
    schema.pointer(pointer).unwrap_or(rule)
}

/// The type that a rule of the schema asks for.
pub(super) fn kind(rule: &Rule) -> &str {
    match rule["oneOf"]
        .as_array()
        .and_then(|branches| branches.first())
    {
        Some(first) => first["type"].as_str().unwrap_or(""),
        None => rule["type"].as_str().unwrap_or(""),
    }
}

/// Whether it asks for a whole number.
pub(super) fn integer(rule: &Rule) -> bool {
    kind(rule) == "integer"
}

/// The words or numbers that may stand there, if they are listed.
pub(super) fn words(rule: &Rule) -> Option<Vec<String>> {
    let text = |word: &Rule| match word {
        Rule::String(text) => text.clone(),
        other => other.to_string(),
    };
    if let Some(allowed) = rule["enum"].as_array() {
        return Some(allowed.iter().map(text).collect());
    }
    let branches = rule["oneOf"].as_array()?;
    branches
        .iter()
        .map(|branch| branch.get("const").map(text))
        .collect()
}

/// The first field that each of several groups must have: its head, by which
/// they are told apart.
pub(super) fn heads<'r>(groups: &[&'r Rule]) -> Vec<&'r str> {
    groups
        .iter()
        .map(|group| group["required"][0].as_str().unwrap_or_default())
        .collect()
}

/// What may stand where `rule` holds.
pub(super) fn expected(schema: &Rule, rule: &Rule) -> String {
    let rule = resolve(schema, rule);
    if let Some(branches) = rule["anyOf"].as_array() {
        let mut parts: Vec<String> = branches.iter().map(|b| expected(schema, b)).collect();
        parts.dedup();
        return parts.join(" or ");
    }
    if let Some(allowed) = words(rule) {
        let told = |word: &String| match integer(rule) {
            true => word.clone(),
            false => format!("'{word}'"),
        };
        let told: Vec<String> = allowed.iter().map(told).collect();
        return format!("one of {}", told.join(", "));
    }
    match kind(rule) {
        "object" => "a group in { }".to_string(),
        "array" => "a list in [ ]".to_string(),
        "string" if rule["pattern"] == COLOUR => "a colour such as \"#2f7f79\"".to_string(),
        "string" => "a text in quotes".to_string(),
        _ => number(rule),
    }
}

fn number(rule: &Rule) -> String {
    let even = if rule["multipleOf"] == 2 { "even " } else { "" };
    let what = if integer(rule) {
        "whole number"
    } else {
        "number"
    };
    let article = if even.is_empty() { "a" } else { "an" };
    let bound = |name: &str| rule[name].as_f64();
    let range = match (bound("minimum"), bound("maximum")) {
        (Some(min), Some(max)) if min == max => return format!("the number {min}"),
        (Some(min), Some(max)) => format!(" from {min} to {max}"),
        (Some(min), None) => format!(" from {min}"),
        _ => String::new(),
    };
    format!("{article} {even}{what}{range}")
}

/// What stands there.
pub(super) fn found(value: &Value) -> String {
    match value {
        Value::StringLit(text) => format!("the text {}", Quote::new(&text.value)),
        Value::NumberLit(number) => Quote::new(number.value).bare().to_string(),
        Value::BooleanLit(truth) => truth.value.to_string(),
        Value::Object(_) => "a group in { }".to_string(),
        Value::Array(_) => "a list in [ ]".to_string(),
        Value::NullKeyword(_) => "null".to_string(),
    }
}
