//! Is whatever a user wrote printed, or refused with a clear word, and never a broken PDF or run as a template?
//! Read back by poppler and qpdf, two readers that know nothing of this project.
#![allow(clippy::expect_used, clippy::unwrap_used, clippy::panic)]

mod common;

use common::{
    EXAMPLES, fonts_of, job_text, material_from, material_of, setting, text_of, tool, words_of,
};
use papers::{Paper, Press, Printed, Problem, Setting, Size};

/// The demo job with another label on its refrigerator circuit.
fn labelled(label: &str) -> String {
    let job = job_text("ranch-subpanel");
    let written = toml::Value::String(label.to_owned()).to_string();
    job.replace("\"refrigerator\", spaces", &format!("{written}, spaces"))
}

fn directory(label: &str) -> String {
    let job = labelled(label);
    assert_ne!(job, job_text("ranch-subpanel"), "the label was not put in");
    let paper = common::printed(Paper::Directory, &material_from(&job, &[]));
    tool("qpdf", &["--check"], &paper.pdf, &[]);
    words_of(&paper.pdf)
}

#[test]
fn user_text_is_never_template_code() {
    for label in [
        "#panic(\"run\") kitchen",
        "kitchen #{1+1} $x^2$ *bold* _it_ `raw` @ref <label>",
        "kitchen \\#read(\"/etc/passwd\") //comment /* x */",
        "= kitchen #image(\"x.svg\") [a](b)",
        "\"] + panic() + [\" kitchen",
    ] {
        let text = directory(label);
        let wanted = label.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(text.contains(&wanted), "{wanted:?} is not in {text:?}");
    }
}

#[test]
fn a_long_label_wraps_and_all_of_it_is_there() {
    let label = format!("kitchen {}", "w".repeat(492));
    let text = directory(&label).replace(' ', "");
    assert_eq!(
        text.matches('w').count() - directory("kitchen").matches('w').count(),
        492
    );
}

#[test]
fn other_scripts_are_printed_and_what_no_font_has_is_named() {
    assert!(directory("cocina, encimera del fregadero \u{f1}").contains("fregadero \u{f1}"));
    assert!(directory("kitchen \u{1f50c} plug-in").contains("[U+1F50C]"));
    let hebrew = directory("\u{5de}\u{5d8}\u{5d1}\u{5d7} kitchen");
    assert!(
        hebrew.contains('\u{5de}') && hebrew.contains("kitchen"),
        "{hebrew}"
    );
    let arabic = directory("\u{645}\u{637}\u{628}\u{62e} kitchen");
    assert!(arabic.contains("kitchen"), "{arabic}");
}

#[test]
fn control_characters_and_marks_of_direction_do_no_harm() {
    let text = directory("kitchen\u{7}\u{1b}[2J\u{202e}retnuoc\u{2066} side");
    assert!(text.contains("kitchen [2Jretnuoc side"), "{text}");
}

#[test]
fn a_label_that_tells_too_little_is_refused_with_what_is_missing() {
    for (label, why) in [
        ("plugs", "could be anything"),
        ("Billy's room", "they move"),
    ] {
        let material = material_from(&labelled(label), &[]);
        let refused = papers::print(Paper::Directory, &material, &common::PRESS);
        let Err(Problem::Labels(all)) = refused else {
            panic!("{refused:?}");
        };
        assert_eq!(all.len(), 1);
        assert!(
            all[0].contains("circuit fridge") && all[0].contains(why),
            "{all:?}"
        );
    }
}

#[test]
fn a_template_that_cannot_be_run_is_named_with_its_place() {
    let check = |template: &str, place: (usize, usize), what: &str| {
        let press = Press::new([("directory.typ", template)]).unwrap();
        let result = papers::print(Paper::Directory, &material_of("swap-clean"), &press);
        match result {
            Err(Problem::Template {
                file,
                line,
                column,
                what: said,
            }) => {
                assert_eq!((file.as_str(), (line, column)), ("directory.typ", place));
                assert!(said.contains(what), "{said}");
            }
            other => panic!("{other:?}"),
        }
    };
    check("#let x = ", (1, 9), "expected expression");
    check("= A\n#nothing", (2, 2), "unknown variable");
    check("#read(\"../../secret.txt\")", (1, 7), "");
    check("#import \"@preview/x:1.0.0\"", (1, 9), "");
    check("#image(\"missing.svg\")", (1, 8), "not found");
    let unknown = Press::new([("sketch.typ", "")]).unwrap_err();
    assert_eq!(unknown, Problem::NoSuchTemplate("sketch.typ".into()));
}

#[test]
fn a_font_that_is_not_there_is_said_and_the_paper_still_printed() {
    let template = "#import \"look.typ\": *\n#show: paper\n#set text(font: \"Nowhere Grotesque\")\n= #head.title\n";
    let press = Press::new([("directory.typ", template)]).unwrap();
    let paper = papers::print(Paper::Directory, &material_of("swap-clean"), &press).unwrap();
    assert!(
        paper
            .warnings
            .iter()
            .any(|w| w.contains("nowhere grotesque")),
        "{:?}",
        paper.warnings
    );
    assert!(text_of(&paper.pdf).contains("Directory"));
}

#[test]
fn every_paper_of_every_demo_job_is_whole_tagged_and_embeds_its_fonts() {
    for name in EXAMPLES {
        for size in [Size::Letter, Size::A4] {
            let setting = Setting { size, ..setting() };
            let material = material_of(name).printed_as(setting);
            let all = papers::set(&Paper::ALL, &material, &common::PRESS);
            assert_eq!(all.len(), Paper::ALL.len());
            for (paper, result) in all {
                let printed = result.unwrap_or_else(|e| panic!("{name}, {paper}: {e}"));
                look_at(&format!("{name}, {paper}"), &printed, size);
            }
        }
    }
}

fn look_at(name: &str, printed: &Printed, size: Size) {
    assert_eq!(printed.warnings, Vec::<String>::new(), "{name}");
    tool("qpdf", &["--check"], &printed.pdf, &[]);
    let facts = tool("pdfinfo", &[], &printed.pdf, &[]);
    let field = |key: &str| {
        let line = facts
            .lines()
            .find(|l| l.starts_with(key))
            .unwrap_or_else(|| panic!("{name}: {key}"));
        line[key.len()..].trim().to_owned()
    };
    assert_eq!(field("Tagged:"), "yes", "{name}");
    assert_eq!(field("Pages:"), printed.pages.to_string(), "{name}");
    assert!(!field("Title:").is_empty(), "{name}");
    let sheet = match size {
        Size::Letter => "letter",
        Size::A4 => "A4",
    };
    assert!(field("Page size:").contains(sheet), "{name}: {facts}");
    let fonts = fonts_of(&printed.pdf);
    let lines: Vec<&str> = fonts.lines().skip(2).collect();
    assert!(!lines.is_empty(), "{name}");
    for line in lines {
        // The columns of pdffonts end with: embedded, subset, unicode, object, generation.
        let columns: Vec<&str> = line.split_whitespace().rev().collect();
        assert_eq!(columns[4], "yes", "{name}: {line}");
    }
    let pdf = String::from_utf8_lossy(&printed.pdf);
    for marked in [
        "<pdfaid:part>3</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
        "/Lang",
    ] {
        assert!(pdf.contains(marked), "{name}: {marked}");
    }
}
