//! `tr!` around every text that a person reads, used like `format!`; `tr_later!` around one that is a constant.
//!
//!     tr!("Nothing is lost.")                            a `&'static str`
//!     tr!("{n} of {} positions, {:>4} %", all, share)    a `String`, as `format!` makes it
//!     tr!(n; "{n} move" | "{n} moves")                   the form that goes with the number n
//!     tr!("of a game" => "draw")                         with a context, where one English text needs two translations
//!
//! Without a translation it is `format!` behind one look at whether there is one.

use std::collections::{BTreeMap, BTreeSet};

use proc_macro2::{Span, TokenStream};
use quote::{format_ident, quote};
use syn::parse::{Parse, ParseStream};
use syn::punctuated::Punctuated;
use syn::{Error, Expr, Ident, LitStr, Token};

#[path = "../placeholders.rs"]
mod placeholders;

use placeholders::{Part, parts};

/// A text for people: looked up in the translation, in English without one.
#[proc_macro]
pub fn tr(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let message = syn::parse_macro_input!(input as Message);
    message
        .expanded()
        .unwrap_or_else(Error::into_compile_error)
        .into()
}

/// A text for people in a constant: the template has it, and `translation::text` translates it where it is shown, or
/// `translation::shown` where it has a context: `tr_later!("a cause" => "was short of time")`.
#[proc_macro]
pub fn tr_later(input: proc_macro::TokenStream) -> proc_macro::TokenStream {
    let Message { text, .. } = syn::parse_macro_input!(input as Message);
    quote!(#text).into()
}

struct Argument {
    name: Option<Ident>,
    value: Expr,
}

impl Parse for Argument {
    fn parse(input: ParseStream<'_>) -> syn::Result<Self> {
        let named = input.peek(Ident) && input.peek2(Token![=]) && !input.peek2(Token![==]);
        let name = match named {
            true => {
                let name = input.parse()?;
                input.parse::<Token![=]>()?;
                Some(name)
            }
            false => None,
        };
        let value = input.parse()?;
        Ok(Self { name, value })
    }
}

struct Message {
    context: Option<LitStr>,
    count: Option<Expr>,
    text: LitStr,
    plural: Option<LitStr>,
    arguments: Vec<Argument>,
}

impl Parse for Message {
    fn parse(input: ParseStream<'_>) -> syn::Result<Self> {
        let context = match input.peek(LitStr) && input.peek2(Token![=>]) {
            true => {
                let context = input.parse()?;
                input.parse::<Token![=>]>()?;
                Some(context)
            }
            false => None,
        };
        let count = match input.peek(LitStr) {
            true => None,
            false => {
                let count = input.parse()?;
                input.parse::<Token![;]>()?;
                Some(count)
            }
        };
        let text = input.parse()?;
        let plural = match count {
            Some(_) => {
                input.parse::<Token![|]>()?;
                Some(input.parse()?)
            }
            None => None,
        };
        let arguments = match input.is_empty() {
            true => Vec::new(),
            false => {
                input.parse::<Token![,]>()?;
                let arguments = Punctuated::<Argument, Token![,]>::parse_terminated(input)?;
                arguments.into_iter().collect()
            }
        };
        Ok(Self {
            context,
            count,
            text,
            plural,
            arguments,
        })
    }
}

/// A value that a text shows: `which` in the text, and the tokens that give it.
struct Values<'a> {
    arguments: &'a [Argument],
    used: BTreeMap<(String, String), TokenStream>,
}

impl Values<'_> {
    /// Takes in the places of a text.
    fn of(&mut self, text: &LitStr) -> syn::Result<()> {
        let told = parts(&text.value()).map_err(|why| Error::new(text.span(), why))?;
        for part in told {
            let Part::Value { which, spec } = part else {
                continue;
            };
            if spec.contains('*') || spec.contains('$') && !named_width(&spec) {
                let why = "a width or precision that is an argument needs a name";
                return Err(Error::new(text.span(), why));
            }
            let shown = self.shown(&which, &spec, text)?;
            self.used.insert((which, spec), shown);
        }
        Ok(())
    }

    /// `format_args!` of one place alone.
    fn shown(&self, which: &str, spec: &str, text: &LitStr) -> syn::Result<TokenStream> {
        let colon = if spec.is_empty() { "" } else { ":" };
        let Some(number) = number_of(self.arguments, which) else {
            let format = LitStr::new(&format!("{{{which}{colon}{spec}}}"), text.span());
            let widths = self.widths(spec);
            return Ok(quote!(::std::format_args!(#format #(, #widths)*)));
        };
        if number >= self.arguments.len() {
            let why = format!("there is no argument for {{{which}}}");
            return Err(Error::new(text.span(), why));
        }
        let value = variable(number);
        let format = LitStr::new(&format!("{{{colon}{spec}}}"), text.span());
        let widths = self.widths(spec);
        Ok(quote!(::std::format_args!(#format, #value #(, #widths)*)))
    }

    /// The named arguments that a spec has as width or precision.
    fn widths(&self, spec: &str) -> Vec<TokenStream> {
        let widths = widths(self.arguments, spec).into_iter();
        widths.map(|(i, name)| width(i, name)).collect()
    }
}

/// Which argument a place shows, by its number or its name; `None` for a variable of the surroundings.
fn number_of(arguments: &[Argument], which: &str) -> Option<usize> {
    which.parse().ok().or_else(|| {
        let named = |a: &Argument| a.name.as_ref().is_some_and(|n| n == which);
        arguments.iter().position(named)
    })
}

/// The named arguments that a spec has as width or precision.
fn widths<'a>(arguments: &'a [Argument], spec: &str) -> Vec<(usize, &'a Ident)> {
    let named = arguments.iter().enumerate();
    named
        .filter_map(|(i, a)| a.name.as_ref().map(|name| (i, name)))
        .filter(|(_, name)| spec.contains(&format!("{name}$")))
        .collect()
}

fn width(number: usize, name: &Ident) -> TokenStream {
    let value = variable(number);
    quote!(#name = *#value)
}

fn named_width(spec: &str) -> bool {
    let before = spec.split('$').next().unwrap_or_default();
    before.ends_with(|c: char| c.is_alphanumeric() || c == '_')
        && before
            .rsplit(|c: char| !(c.is_alphanumeric() || c == '_'))
            .next()
            .is_some_and(|name| name.starts_with(|c: char| c.is_alphabetic() || c == '_'))
}

fn variable(number: usize) -> Ident {
    format_ident!("__argument_{number}", span = Span::mixed_site())
}

impl Message {
    fn expanded(&self) -> syn::Result<TokenStream> {
        let mut values = Values {
            arguments: &self.arguments,
            used: BTreeMap::new(),
        };
        values.of(&self.text)?;
        if let Some(plural) = &self.plural {
            values.of(plural)?;
        }
        let key = self.key();
        if values.used.is_empty() && self.count.is_none() {
            if let Some(argument) = self.arguments.first() {
                return Err(Error::new_spanned(
                    &argument.value,
                    "no place for this argument",
                ));
            }
            // Braces are written twice in the source, as in `format!`.
            let shown = self.shown_plain(&self.text)?;
            return Ok(match shown == self.text.value() && self.context.is_none() {
                true => quote!(crate::translation::text(#key)),
                false => quote!(crate::translation::text_or(#key, #shown)),
            });
        }
        let bound: Vec<Ident> = (0..self.arguments.len()).map(variable).collect();
        let given: Vec<&Expr> = self.arguments.iter().map(|a| &a.value).collect();
        let found = values
            .used
            .iter()
            .map(|((which, spec), shown)| quote!((#which, #spec, #shown)));
        let found = quote!(&[#(#found),*]);
        let used: Vec<&String> = values.used.keys().map(|(which, _)| which).collect();
        let specs = values.used.keys().map(|(_, spec)| spec);
        let wide: BTreeSet<usize> = specs
            .flat_map(|spec| widths(&self.arguments, spec))
            .map(|(i, _)| i)
            .collect();
        for (i, argument) in self.arguments.iter().enumerate() {
            let by = |w: &&String| {
                **w == i.to_string() || argument.name.as_ref().is_some_and(|n| n == w.as_str())
            };
            if !wide.contains(&i) && !used.iter().any(by) {
                return Err(Error::new_spanned(
                    &argument.value,
                    "no place for this argument",
                ));
            }
        }
        let english = self.english(&self.text)?;
        // Names of our own, which no `{found}` of a text can mean.
        let form = Ident::new("form", Span::mixed_site());
        let number = Ident::new("number", Span::mixed_site());
        let told = match (&self.count, &self.plural) {
            (Some(count), Some(plural)) => {
                let english_plural = self.english(plural)?;
                quote!({
                    let #number = crate::translation::Count::count(&(#count));
                    match crate::translation::plural(#key, #number) {
                        ::std::option::Option::Some(#form) => crate::translation::filled(#form, #found),
                        ::std::option::Option::None if #number == 1 => #english,
                        ::std::option::Option::None => #english_plural,
                    }
                })
            }
            _ => quote!(match crate::translation::message(#key) {
                ::std::option::Option::Some(#form) => crate::translation::filled(#form, #found),
                ::std::option::Option::None => #english,
            }),
        };
        Ok(match bound.is_empty() {
            true => told,
            false => quote!(match (#(&(#given),)*) { (#(#bound,)*) => #told }),
        })
    }

    /// What a catalogue has the message under: gettext's own form of context and text.
    fn key(&self) -> String {
        match &self.context {
            Some(context) => format!("{}\u{4}{}", context.value(), self.text.value()),
            None => self.text.value(),
        }
    }

    fn shown_plain(&self, text: &LitStr) -> syn::Result<String> {
        let told = parts(&text.value()).map_err(|why| Error::new(text.span(), why))?;
        let words = told.into_iter().map(|part| match part {
            Part::Words(words) => words,
            Part::Value { .. } => String::new(),
        });
        Ok(words.collect())
    }

    /// `format!` of the text, with those of the arguments that it shows.
    fn english(&self, text: &LitStr) -> syn::Result<TokenStream> {
        let told = parts(&text.value()).map_err(|why| Error::new(text.span(), why))?;
        let mut format = String::new();
        let mut given = BTreeSet::new();
        let mut wide = BTreeMap::new();
        for part in told {
            match part {
                Part::Words(words) => {
                    format.push_str(&words.replace('{', "{{").replace('}', "}}"));
                }
                Part::Value { which, spec } => {
                    let colon = if spec.is_empty() { "" } else { ":" };
                    wide.extend(widths(&self.arguments, &spec));
                    match number_of(&self.arguments, &which) {
                        Some(number) => {
                            given.insert(number);
                            format.push_str(&format!("{{__argument_{number}{colon}{spec}}}"));
                        }
                        None => format.push_str(&format!("{{{which}{colon}{spec}}}")),
                    }
                }
            }
        }
        let format = LitStr::new(&format, text.span());
        let given = given.iter().map(|number| {
            let name = format_ident!("__argument_{number}");
            let value = variable(*number);
            quote!(#name = #value)
        });
        let wide = wide.iter().map(|(number, name)| width(*number, name));
        Ok(quote!(::std::format!(#format #(, #given)* #(, #wide)*)))
    }
}
