//! A question over HTTP, put to the one door of the engine. Options come as texts; the door takes some of them as numbers or truths.

use ::answers::call::call;
use serde_json::{Map, Value, json};

/// The answer, or what is wrong with the job or the question.
pub(super) fn answer(command: &str, text: &str, options: Value) -> Result<Value, Value> {
    let mut question = Map::new();
    question.insert("command".to_owned(), json!(command));
    question.insert("job".to_owned(), json!(text));
    if let Value::Object(options) = options {
        for (name, value) in options {
            let value = typed(&name, value);
            // Nobody may put another job in the place of the one asked about.
            question.entry(name).or_insert(value);
        }
    }
    let answer = call(&Value::Object(question).to_string());
    let answer: Value = serde_json::from_str(&answer)
        .map_err(|_| json!({ "found": "the engine gave no answer that can be read" }))?;
    if answer["command"] == "error" {
        Err(answer)
    } else {
        Ok(answer)
    }
}

/// What does not read as its kind stays as it is, and the door says so.
fn typed(name: &str, value: Value) -> Value {
    let Some(text) = value.as_str() else {
        return value;
    };
    let read = match name {
        "effort" => text.parse::<u32>().ok().map(Value::from),
        "step_in" => text.parse::<f64>().ok().map(Value::from),
        "customer" | "drawing" => text.parse::<bool>().ok().map(Value::from),
        _ => None,
    };
    read.unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    const JOB: &str = include_str!("../../../../../examples/swap-clean.toml");

    #[test]
    fn options_reach_the_engine_as_what_they_are() {
        let options = json!({ "customer": "true", "edition": "2020" });
        let price = answer("price", JOB, options).unwrap();
        assert_eq!(price["edition"], "2020");
        assert!(price.get("cost").is_none() && price["total"].is_object());
    }

    #[test]
    fn what_is_wrong_comes_back_with_its_place() {
        for (options, found) in [
            (json!({ "customer": "perhaps" }), "perhaps"),
            (json!({ "colour": "red" }), "colour"),
        ] {
            let wrong = answer("price", JOB, options).unwrap_err();
            let text = wrong["mistakes"][0]["found"].as_str().unwrap();
            assert!(text.contains(found), "{text}");
        }
        let wrong = answer("check", "format = 1\ntitel = \"x\"", json!({})).unwrap_err();
        assert_eq!(wrong["mistakes"][0]["line"], 2, "{wrong}");
    }

    #[test]
    fn another_job_cannot_be_put_in_its_place() {
        let options = json!({ "job": "format = 1" });
        assert!(answer("check", JOB, options).is_ok());
    }
}
