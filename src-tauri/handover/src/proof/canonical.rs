//! One way of writing a value as bytes: the JSON Canonicalization Scheme (RFC 8785).

use borespoke_core::record::Digest;
use serde_json::Value;
use sha2::{Digest as _, Sha256};

/// The canonical bytes of a value.
pub fn bytes(value: &Value) -> Vec<u8> {
    // Only a map with keys that are not text could fail; a `Value` has none.
    serde_json_canonicalizer::to_vec(value).unwrap_or_default()
}

/// SHA-256 over a name for what is digested, a line end, and parts one after the other. The name
/// keeps a digest made for one purpose from standing in for another.
pub fn digest(purpose: &str, parts: &[&[u8]]) -> Digest {
    let mut hasher = Sha256::new_with_prefix(purpose.as_bytes());
    hasher.update(b"\n");
    for part in parts {
        hasher.update(part);
    }
    Digest::from_bytes(hasher.finalize().into())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Outside check. Source: RFC 8785, section 3.2.2 with the canonical form in 3.2.3 (keys
    /// sorted by UTF-16 code units, numbers as ECMAScript writes them).
    #[test]
    fn the_example_of_the_standard_comes_out_as_the_standard_has_it() {
        let given = r#"{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
            "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]}"#;
        let wanted = "{\"literals\":[null,true,false],\"numbers\":[333333333.3333333,1e+30,4.5,0.002,1e-27],\
            \"string\":\"€$\\u000f\\nA'B\\\"\\\\\\\\\\\"/\"}";
        let value = serde_json::from_str(given).unwrap();
        assert_eq!(String::from_utf8(bytes(&value)).unwrap(), wanted);
    }

    #[test]
    fn the_purpose_is_part_of_the_digest() {
        assert_ne!(digest("a", &[b"x"]), digest("b", &[b"x"]));
    }
}
