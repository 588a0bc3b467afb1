//! Is what the press gives out what its standards ask for? Read from outside: poppler-utils, and the metadata in the file.
//! Standards: PDF/A-3a (part 3, conformance A) and PDF/UA-1 as XMP metadata names them.

#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use common::{fonts_of, material_of, printed};
use papers::Paper;

/// Papers that exist so far.
const PAPERS: [Paper; 6] = [
    Paper::Directory,
    Paper::Proposal,
    Paper::Permit,
    Paper::Inspection,
    Paper::HandOver,
    Paper::Cost,
];

/// XMP metadata, which is never compressed.
fn metadata(pdf: &[u8]) -> String {
    let text = String::from_utf8_lossy(pdf);
    let start = text.find("<x:xmpmeta").expect("metadata");
    let end = text[start..].find("</x:xmpmeta>").expect("its end");
    text[start..start + end].to_owned()
}

#[test]
fn every_paper_is_tagged_archivable_and_accessible_and_says_its_language() {
    let material = material_of("ranch-subpanel");
    for paper in PAPERS {
        let pdf = printed(paper, &material).pdf;
        let metadata = metadata(&pdf);
        for mark in [
            "<pdfaid:part>3</pdfaid:part>",
            "<pdfaid:conformance>A</pdfaid:conformance>",
            "<pdfuaid:part>1</pdfuaid:part>",
            "<rdf:li>en</rdf:li>",
        ] {
            assert!(metadata.contains(mark), "{paper}: {mark} in {metadata}");
        }
        let text = String::from_utf8_lossy(&pdf);
        for mark in ["/StructTreeRoot", "/MarkInfo", "/Lang(en)"] {
            let spaced = mark.replace('(', " (");
            assert!(
                text.contains(mark) || text.contains(&spaced),
                "{paper}: {mark}"
            );
        }
    }
}

#[test]
fn every_font_is_embedded() {
    let material = material_of("ranch-subpanel");
    for paper in PAPERS {
        let fonts = fonts_of(&printed(paper, &material).pdf);
        let rows: Vec<&str> = fonts.lines().skip(2).collect();
        assert!(!rows.is_empty(), "{paper}: {fonts}");
        for row in rows {
            // ... emb sub uni object ID
            let columns: Vec<&str> = row.split_whitespace().rev().collect();
            assert_eq!(columns.get(4), Some(&"yes"), "{paper}: {row}");
        }
    }
}
