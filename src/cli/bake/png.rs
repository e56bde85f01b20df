pub fn og_image(_: &str) -> Result<Vec<u8>, String> {
    Err("".into())
}
