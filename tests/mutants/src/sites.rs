//! Where an error can be planted in a file, and which.

use std::ops::Range;

use proc_macro2::Span;
use syn::spanned::Spanned;
use syn::visit::{self, Visit};
use syn::{BinOp, Expr, Lit, UnOp};

/// An expression that can be replaced by another.
#[derive(Clone, Debug)]
pub struct Site {
    pub range: Range<usize>,
    pub line: usize,
    pub kind: &'static str,
    pub now: String,
    /// A call whose value nobody reads: it stands as a statement.
    pub statement: bool,
}

/// Every site of a file, in the order of its text.
pub fn of(text: &str) -> Vec<Site> {
    let file = syn::parse_file(text).expect("the program compiles");
    let mut finder = Finder { text, sites: Vec::new() };
    finder.visit_file(&file);
    let mut sites = finder.sites;
    sites.sort_by_key(|site| (site.range.start, std::cmp::Reverse(site.range.end)));
    sites
}

struct Finder<'a> {
    text: &'a str,
    sites: Vec<Site>,
}

impl Finder<'_> {
    fn text(&self, span: Span) -> &str {
        &self.text[span.byte_range()]
    }

    fn add(&mut self, whole: Span, kind: &'static str, now: String) {
        let (range, line) = (whole.byte_range(), whole.start().line);
        self.sites.push(Site { range, line, kind, now, statement: false });
    }

    /// The text of an expression with a part of it replaced.
    fn with(&self, whole: Span, part: Span, now: &str) -> String {
        let (whole, part) = (whole.byte_range(), part.byte_range());
        format!("{}{now}{}", &self.text[whole.start..part.start], &self.text[part.end..whole.end])
    }

    fn binary(&mut self, expr: &Expr, op: &BinOp) {
        let found: &[(&'static str, &str)] = match op {
            BinOp::Lt(_) => &[("edge", "<="), ("turned", ">=")],
            BinOp::Le(_) => &[("edge", "<"), ("turned", ">")],
            BinOp::Gt(_) => &[("edge", ">="), ("turned", "<=")],
            BinOp::Ge(_) => &[("edge", ">"), ("turned", "<")],
            BinOp::Eq(_) => &[("turned", "!=")],
            BinOp::Ne(_) => &[("turned", "==")],
            BinOp::Add(_) => &[("arithmetic", "-")],
            BinOp::Sub(_) => &[("arithmetic", "+")],
            BinOp::Mul(_) => &[("arithmetic", "/")],
            BinOp::Div(_) => &[("arithmetic", "*")],
            BinOp::AddAssign(_) => &[("arithmetic", "-=")],
            BinOp::SubAssign(_) => &[("arithmetic", "+=")],
            BinOp::MulAssign(_) => &[("arithmetic", "/=")],
            BinOp::DivAssign(_) => &[("arithmetic", "*=")],
            BinOp::And(_) => &[("logic", "||")],
            BinOp::Or(_) => &[("logic", "&&")],
            _ => &[],
        };
        for (kind, now) in found {
            self.add(expr.span(), kind, self.with(expr.span(), op.span(), now));
        }
    }

    /// The other of two names, for a method or for a function that is passed.
    fn other(name: &str) -> Option<(&'static str, &'static str)> {
        const PAIRS: [(&str, &str, &str); 8] = [
            ("extreme", "min", "max"),
            ("extreme", "min_by", "max_by"),
            ("extreme", "min_by_key", "max_by_key"),
            ("rounding", "ceil", "floor"),
            ("logic", "any", "all"),
            ("logic", "is_some", "is_none"),
            ("logic", "is_some_and", "is_none_or"),
            ("rounding", "saturating_add", "saturating_sub"),
        ];
        PAIRS.into_iter().find_map(|(kind, one, two)| match name {
            _ if name == one => Some((kind, two)),
            _ if name == two => Some((kind, one)),
            _ => None,
        })
    }

    /// A condition, where no other error turns it round already.
    fn condition(&mut self, kind: &'static str, condition: &Expr) {
        let turned = match condition {
            Expr::Binary(binary) => {
                use BinOp::{Eq, Ge, Gt, Le, Lt, Ne};
                matches!(binary.op, Eq(_) | Ge(_) | Gt(_) | Le(_) | Lt(_) | Ne(_))
            }
            Expr::Unary(unary) => matches!(unary.op, UnOp::Not(_)),
            _ => false,
        };
        if !turned && !binds(condition) {
            self.add(condition.span(), kind, format!("!({})", self.text(condition.span())));
        }
    }

    fn literal(&mut self, lit: &Lit) {
        let now = match lit {
            Lit::Int(int) => {
                let Ok(value) = int.base10_parse::<u128>() else { return };
                format!("{}{}", value + 1, int.suffix())
            }
            Lit::Float(float) => {
                let Ok(value) = float.base10_parse::<f64>() else { return };
                format!("{:?}{}", if value == 0.0 { 1.0 } else { value * 1.1 }, float.suffix())
            }
            Lit::Bool(bool) => (!bool.value).to_string(),
            _ => return,
        };
        self.add(lit.span(), "constant", now);
    }
}

/// Whether a condition binds a name with `let`, which nothing can be put round.
fn binds(expr: &Expr) -> bool {
    match expr {
        Expr::Let(_) => true,
        Expr::Binary(binary) => binds(&binary.left) || binds(&binary.right),
        _ => false,
    }
}

/// Whether something is there for tests alone.
fn for_tests(attributes: &[syn::Attribute]) -> bool {
    attributes.iter().any(|attribute| {
        attribute.path().is_ident("test")
            || attribute.path().is_ident("cfg")
                && attribute.parse_args::<syn::Ident>().is_ok_and(|ident| ident == "test")
    })
}

impl<'ast> Visit<'ast> for Finder<'_> {
    // What the compiler works, and what is no expression.
    fn visit_item_const(&mut self, _: &'ast syn::ItemConst) {}
    fn visit_item_static(&mut self, _: &'ast syn::ItemStatic) {}
    fn visit_impl_item_const(&mut self, _: &'ast syn::ImplItemConst) {}
    fn visit_trait_item_const(&mut self, _: &'ast syn::TraitItemConst) {}
    fn visit_expr_const(&mut self, _: &'ast syn::ExprConst) {}
    fn visit_variant(&mut self, _: &'ast syn::Variant) {}
    fn visit_type(&mut self, _: &'ast syn::Type) {}
    fn visit_pat(&mut self, _: &'ast syn::Pat) {}
    fn visit_attribute(&mut self, _: &'ast syn::Attribute) {}
    fn visit_angle_bracketed_generic_arguments(&mut self, _: &'ast syn::AngleBracketedGenericArguments) {}

    fn visit_item_mod(&mut self, item: &'ast syn::ItemMod) {
        if !for_tests(&item.attrs) {
            visit::visit_item_mod(self, item);
        }
    }

    fn visit_item_fn(&mut self, item: &'ast syn::ItemFn) {
        if item.sig.constness.is_none() && !for_tests(&item.attrs) {
            visit::visit_item_fn(self, item);
        }
    }

    fn visit_impl_item_fn(&mut self, item: &'ast syn::ImplItemFn) {
        if item.sig.constness.is_none() {
            visit::visit_impl_item_fn(self, item);
        }
    }

    fn visit_expr_repeat(&mut self, repeat: &'ast syn::ExprRepeat) {
        self.visit_expr(&repeat.expr);
    }

    fn visit_stmt(&mut self, stmt: &'ast syn::Stmt) {
        if let syn::Stmt::Expr(expr, Some(end)) = stmt {
            let call = match expr {
                Expr::Try(tried) => &tried.expr,
                other => other,
            };
            if matches!(call, Expr::Call(_) | Expr::MethodCall(_)) {
                let range = expr.span().byte_range().start..end.span().byte_range().end;
                let line = expr.span().start().line;
                self.sites.push(Site { range, line, kind: "call", now: String::new(), statement: true });
            }
        }
        visit::visit_stmt(self, stmt);
    }

    fn visit_arm(&mut self, arm: &'ast syn::Arm) {
        if let Some((_, guard)) = &arm.guard {
            self.condition("guard", guard);
        }
        visit::visit_arm(self, arm);
    }

    fn visit_expr(&mut self, expr: &'ast Expr) {
        match expr {
            Expr::Binary(binary) if !binds(expr) => self.binary(expr, &binary.op),
            Expr::Unary(unary) => match unary.op {
                UnOp::Not(_) => self.add(expr.span(), "not", self.text(unary.expr.span()).into()),
                UnOp::Neg(_) => self.add(expr.span(), "minus", self.text(unary.expr.span()).into()),
                _ => {}
            },
            Expr::Lit(lit) => self.literal(&lit.lit),
            Expr::If(branch) => self.condition("condition", &branch.cond),
            Expr::MethodCall(call) => {
                if let Some((kind, now)) = Self::other(&call.method.to_string()) {
                    self.add(expr.span(), kind, self.with(expr.span(), call.method.span(), now));
                }
            }
            Expr::Path(path) => {
                let last = path.path.segments.last().expect("a name");
                if let Some((kind, now)) = Self::other(&last.ident.to_string()).filter(|_| path.path.segments.len() > 1)
                {
                    self.add(expr.span(), kind, self.with(expr.span(), last.ident.span(), now));
                }
            }
            _ => {}
        }
        visit::visit_expr(self, expr);
    }
}
