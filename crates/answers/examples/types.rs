//! Writes the front end's types of questions and answers: `cargo run -p lugwright-answers --example types`.

fn main() -> std::io::Result<()> {
    let file =
        std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../web/src/engine/types.ts");
    std::fs::write(file, answers::typescript::types())
}
