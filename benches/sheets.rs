//! The chain as the program works it: the one place that knows how sheets are run.

use std::collections::BTreeMap;
use std::sync::Arc;

use socle::diag::Complaint;
use socle::formula::{Kind, Value};
use socle::quantity::{Quantity, Unit};
use socle::sheet::{Bound, Context, Library, Origin, Sheet, Text, work};
use socle::source::Source;

use crate::inputs::{INPUTS, Inputs};
use crate::{OUTPUTS, Outputs};

pub struct Sheets {
    library: Library,
    chain: Arc<Sheet>,
}

impl Sheets {
    pub fn new() -> Sheets {
        let library = library();
        let chain = library.sheet("chain").expect("the chain").clone();
        Sheets { library, chain }
    }

    pub fn run(&mut self, post: &Inputs) -> Outputs {
        let bound = |name: &str, value: f64| {
            let Some(Kind::Quantity(dim)) = self.chain.input(name).map(|input| &input.kind) else {
                return Value::number(value);
            };
            Value::Quantity(Quantity::new(value, *dim))
        };
        let inputs: BTreeMap<String, (Bound, Origin)> = INPUTS
            .iter()
            .zip(post)
            .map(|(name, value)| {
                let value = bound(name, *value);
                let bound = Bound { value, unit: Unit::none(), varies: false, count: false, given: true, place: None };
                ((*name).to_string(), (bound, Origin::Default))
            })
            .collect();
        let missing = |_: &socle::sheet::Input| Complaint::new("missing");
        let context = Context { library: &self.library, method: None, missing: &missing };
        let done = work(&self.chain, inputs, &context);
        assert!(done.complaints.is_empty(), "{:?}", done.complaints);
        OUTPUTS.map(|name| match done.worked.bound.get(name).map(|bound| &bound.value) {
            Some(Value::Quantity(quantity)) => quantity.value,
            _ => f64::NAN,
        })
    }
}

/// The built-in sheets and the chain.
fn library() -> Library {
    let mut texts: Vec<Text> = socle::embedded::templates()
        .into_iter()
        .map(|(path, bytes)| {
            let source = Source::new(path.clone(), String::from_utf8_lossy(bytes));
            Text { path, source, own: false }
        })
        .collect();
    let source = Source::new("chain.sheet", include_str!("chain.sheet"));
    texts.push(Text { path: "sheets/chain.sheet".into(), source, own: true });
    Library::load(&texts, &socle::package::figure_kinds()).expect("the built-in sheets and the chain are in order")
}
