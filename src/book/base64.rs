//! Bytes as text for data addresses (RFC 4648, section 4).

const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

pub fn base64(bytes: &[u8]) -> String {
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let [a, b, c] = [0, 1, 2].map(|index| u32::from(three.get(index).copied().unwrap_or(0)));
        let word = a << 16 | b << 8 | c;
        for place in 0..4 {
            // Six bits: always one of the 64.
            let letter = LETTERS[(word >> (18 - 6 * place) & 63) as usize];
            text.push(if place <= three.len() { char::from(letter) } else { '=' });
        }
    }
    text
}

/// An address that holds the bytes themselves.
pub fn data_address(kind: &str, bytes: &[u8]) -> String {
    format!("data:{kind};base64,{}", base64(bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Test vectors of RFC 4648, section 10.
    #[test]
    fn vectors() {
        let vectors = [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ];
        for (plain, coded) in vectors {
            assert_eq!(base64(plain.as_bytes()), coded);
        }
    }
}
