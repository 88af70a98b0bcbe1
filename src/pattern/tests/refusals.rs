use super::refusal;
#[test]
fn generate() {
    let cases: Vec<Vec<String>> =
        serde_json::from_str(&std::fs::read_to_string("/tmp/cases.json").unwrap()).unwrap();
    let out: Vec<Vec<String>> = cases
        .into_iter()
        .map(|c| {
            let m = match super::super::read("lantern.json", c[1].as_bytes()) {
                Ok(_) => "LOADS".to_string(),
                Err(e) => e.to_string(),
            };
            vec![c[0].clone(), m]
        })
        .collect();
    std::fs::write("/tmp/out.json", serde_json::to_string(&out).unwrap()).unwrap();
    let _ = refusal;
}
