//! Digests, written in hexadecimal.

use std::fmt::Write as _;

use sha2::{Digest, Sha256};

/// SHA-256 (FIPS 180-4) of some bytes.
pub(crate) fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// Bytes as lower-case hexadecimal digits.
pub(crate) fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().fold(String::with_capacity(2 * bytes.len()), |mut text, byte| {
        // Writing to a text cannot fail.
        let _ = write!(text, "{byte:02x}");
        text
    })
}

#[cfg(test)]
mod tests {
    use super::sha256;

    /// The example of one block in FIPS 180-2, appendix B.1.
    #[test]
    fn fips_180_2_example_b_1() {
        assert_eq!(sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }
}
