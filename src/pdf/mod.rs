use std::collections::BTreeMap;
pub struct Document<'a> {
    pub files: BTreeMap<String, Vec<u8>>,
    pub main: &'a str,
    pub date: (i32, u8, u8),
    pub ident: &'a str,
}
pub struct Pdf {
    pub bytes: Vec<u8>,
    pub pages: usize,
}
pub fn render(_d: Document) -> Result<Pdf, Vec<String>> {
    Err(vec!["stub".into()])
}
