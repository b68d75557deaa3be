//! The chain as the program works it: the one place that knows how sheets are run.

use socle::program::{Memory, Program, Slot};
use socle::sheet::Library;
use socle::source::Source;
use socle::templates::Templates;

use crate::inputs::{INPUTS, Inputs};
use crate::{OUTPUTS, Outputs};

pub struct Sheets {
    program: Program,
    memory: Memory,
    /// What an input is that the chain does not give.
    defaults: Vec<(Slot, f64)>,
    inputs: [Slot; INPUTS.len()],
    outputs: [Slot; OUTPUTS.len()],
}

impl Sheets {
    pub fn new() -> Sheets {
        let library = library();
        let program = Program::new(&library, library.sheet("chain").expect("the chain")).expect("the chain compiles");
        let inputs = INPUTS.map(|name| program.input(name).expect(name));
        let outputs = OUTPUTS.map(|name| program.slot(name).expect(name));
        let defaults = program.facts.iter().filter_map(|fact| Some((fact.slot, fact.default?))).collect();
        Sheets { memory: program.memory(), program, defaults, inputs, outputs }
    }

    pub fn run(&mut self, post: &Inputs) -> Outputs {
        self.program.clear(&mut self.memory);
        for (slot, value) in &self.defaults {
            self.memory.set(*slot, *value);
        }
        for (slot, value) in self.inputs.iter().zip(post) {
            self.memory.set(*slot, *value);
        }
        // No load combination has a part in it: all of it is worked once.
        self.program.run_once(&mut self.memory);
        self.outputs.map(|slot| self.memory.get(slot))
    }
}

/// The built-in sheets and the chain.
fn library() -> Library {
    let chain = Source::new("chain.sheet", include_str!("chain.sheet"));
    Templates::built_in().library_with(&chain).expect("the built-in sheets and the chain are in order")
}
