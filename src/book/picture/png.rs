//! A picture of up to 256 colours as PNG (ISO/IEC 15948:2004), entry 0 transparent.

use miniz_oxide::deflate::compress_to_vec_zlib;

const SIGNATURE: [u8; 8] = [0x89, b'P', b'N', b'G', b'\r', b'\n', 0x1a, b'\n'];
const EIGHT_BITS: u8 = 8;
const INDEXED: u8 = 3;
/// Of 10: beyond it time grows faster than the file shrinks.
const EFFORT: u8 = 3;

/// `points` row by row, an entry of the palette each.
pub fn indexed([width, height]: [usize; 2], palette: &[[u8; 3]], points: &[u8]) -> Vec<u8> {
    let mut file = SIGNATURE.to_vec();
    let mut header = Vec::new();
    header.extend((width as u32).to_be_bytes());
    header.extend((height as u32).to_be_bytes());
    header.extend([EIGHT_BITS, INDEXED, 0, 0, 0]);
    chunk(&mut file, b"IHDR", &header);
    chunk(&mut file, b"PLTE", palette.as_flattened());
    chunk(&mut file, b"tRNS", &[0]);
    let mut rows = Vec::with_capacity(points.len() + height);
    for row in points.chunks(width.max(1)) {
        // No filter: entries of a palette have no slope.
        rows.push(0);
        rows.extend_from_slice(row);
    }
    chunk(&mut file, b"IDAT", &compress_to_vec_zlib(&rows, EFFORT));
    chunk(&mut file, b"IEND", &[]);
    file
}

fn chunk(file: &mut Vec<u8>, kind: &[u8; 4], data: &[u8]) {
    file.extend((data.len() as u32).to_be_bytes());
    let from = file.len();
    file.extend_from_slice(kind);
    file.extend_from_slice(data);
    let sum = checksum(file.get(from..).unwrap_or_default());
    file.extend(sum.to_be_bytes());
}

/// CRC-32 of ISO/IEC 15948:2004, annex D.
fn checksum(bytes: &[u8]) -> u32 {
    !bytes.iter().fold(u32::MAX, |sum, byte| {
        (0..8).fold(
            sum ^ u32::from(*byte),
            |sum, _| if sum & 1 == 1 { 0xedb8_8320 ^ (sum >> 1) } else { sum >> 1 },
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The check value of CRC-32 ("123456789" gives cbf43926), and the empty IEND chunk that ends every PNG (ae426082).
    #[test]
    fn checksums() {
        assert_eq!(checksum(b"123456789"), 0xcbf4_3926);
        assert_eq!(checksum(b"IEND"), 0xae42_6082);
    }

    #[test]
    fn rows_come_back() {
        let file = indexed([2, 2], &[[255; 3], [10, 20, 30]], &[0, 1, 1, 0]);
        let at = file.windows(4).position(|word| word == b"IDAT").expect("data");
        let length = u32::from_be_bytes(file[at - 4..at].try_into().expect("four")) as usize;
        let rows =
            miniz_oxide::inflate::decompress_to_vec_zlib(&file[at + 4..at + 4 + length]).expect("inflates");
        assert_eq!(rows, [0, 0, 1, 0, 1, 0]);
    }
}
