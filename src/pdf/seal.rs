//! The field for an electronic seal: a signature field that nobody has signed, put behind what the typesetter wrote, as
//! any program adds to a PDF. It stands beside PDF/A-3a and PDF/UA-1: it has an appearance, empty as the paper below it,
//! a name for who cannot see it, and a place in the structure of the document.

use lopdf::{Dictionary, Document, IncrementalDocument, Object, ObjectId, Result, Stream, StringFormat, dictionary};

/// Where it is: the page, from 1, and its corners in points from the lower left.
pub struct Place {
    pub page: u32,
    pub corners: [f32; 4],
}

const NAME: &str = "Seal, signature and date of the licensed design professional";

/// # Errors
/// The PDF is not tagged, or cannot be read.
pub fn with_field(pdf: Vec<u8>, place: &Place) -> Result<Vec<u8>> {
    let before = Document::load_mem(&pdf)?;
    let page = before.get_pages().get(&place.page).copied().ok_or_else(|| lopdf::Error::DictKey("Page".into()))?;
    let catalog = before.trailer.get(b"Root")?.as_reference()?;
    let structure = before.get_dictionary(catalog)?.get(b"StructTreeRoot")?.as_reference()?;
    let document = first(before.get_dictionary(structure)?.get(b"K")?)?;
    let mut pdf = IncrementalDocument::create_from(pdf, before);
    for id in [catalog, page, structure, document] {
        pdf.opt_clone_object_to_new_document(id)?;
    }
    let new = &mut pdf.new_document;
    let [left, lower, right, upper] = place.corners;
    let (wide, high) = (right - left, upper - lower);
    let appearance = new.add_object(Stream::new(
        dictionary! {
            "Type" => "XObject", "Subtype" => "Form", "Resources" => Dictionary::new(),
            "BBox" => vec![0.into(), 0.into(), wide.into(), high.into()],
        },
        Vec::new(),
    ));
    let text = |text: &str| Object::String(text.into(), StringFormat::Literal);
    let key = new.get_dictionary(structure)?.get(b"ParentTreeNextKey")?.as_i64()?;
    let field = new.add_object(dictionary! {
        "Type" => "Annot", "Subtype" => "Widget", "FT" => "Sig", "T" => text("seal"), "TU" => text(NAME), "P" => page,
        "Rect" => place.corners.iter().map(|it| Object::Real(*it)).collect::<Vec<_>>(),
        // It is printed with the page.
        "F" => 4,
        "AP" => dictionary! { "N" => appearance },
        "StructParent" => key,
    });
    let element = new.add_object(dictionary! {
        "Type" => "StructElem", "S" => "Form", "P" => document, "Alt" => text(NAME),
        "K" => dictionary! { "Type" => "OBJR", "Obj" => field, "Pg" => page },
    });
    let form = new.add_object(dictionary! { "Fields" => vec![field.into()], "SigFlags" => 1 });
    new.get_dictionary_mut(catalog)?.set("AcroForm", form);
    push(new.get_dictionary_mut(document)?, b"K", [element.into()])?;
    push(new.get_dictionary_mut(page)?, b"Annots", [field.into()])?;
    let structure = new.get_dictionary_mut(structure)?;
    structure.set("ParentTreeNextKey", key + 1);
    push(structure.get_mut(b"ParentTree")?.as_dict_mut()?, b"Nums", [key.into(), element.into()])?;
    let mut bytes = Vec::new();
    pdf.save_to(&mut bytes)?;
    Ok(bytes)
}

/// The first of several, or the only one.
fn first(of: &Object) -> Result<ObjectId> {
    match of {
        Object::Array(all) => all.first().ok_or_else(|| lopdf::Error::DictKey("K".into()))?.as_reference(),
        one => one.as_reference(),
    }
}

/// Puts more at the end of a list, which is made if it is not there.
fn push<const N: usize>(of: &mut Dictionary, key: &[u8], more: [Object; N]) -> Result<()> {
    if !of.has(key) {
        of.set(key, Vec::new());
    }
    of.get_mut(key)?.as_array_mut()?.extend(more);
    Ok(())
}
