//! A table of a book, stated once: its values, their keys and how they are read.

/// Defines a struct together with the keys that it is read from.
///
/// The doc comment of a field is the sentence of help that stands in the printed reference and in
/// the schema; that of a struct with `in [[key]]` is what the table is for. A field is one of
///
/// - `must x: T = form;` and `may x: T = form;`: the key `x`; a `T` that is no option has a default,
///   or says `, or default`;
/// - `key x: T = KEY;`: a key, or several, that more kinds share;
/// - `part x: T;`: several keys that only together make a `T`, which says so itself ([`Part`]);
/// - `made x: T;`: no key, worked out afterwards.
///
/// `then f;` names what checks the whole: `fn(&mut Self, &Row, &mut Findings<'_>)`.
///
/// [`Part`]: super::part::Part
macro_rules! table {
    (
        $(#[doc = $about:literal])+
        $(#[derive($($derive:ident),+)])+
        $vis:vis struct $name:ident $(in [[$key:ident]])? {
            $(
                $(#[doc = $help:literal])*
                $how:ident $field:ident: $type:ty $(= $value:expr $(, or $default:expr)?)?;
            )+
        }
        $(then $then:path;)?
    ) => {
        $(#[doc = $about])+
        $(#[derive($($derive),+)])+
        #[allow(missing_docs, reason = "what several kinds share is said once, where it is shared")]
        $vis struct $name {
            $( $(#[doc = $help])* pub $field: $type, )+
        }

        impl $crate::rulebook::keys::Part for $name {
            const FIELDS: &'static [$crate::rulebook::rows::Field] = {
                const PARTS: &[&[$crate::rulebook::rows::Field]] =
                    &[$( table!(@fields $how $field $type [$($value)?] [$($help)*]) ),+];
                &$crate::rulebook::keys::join::<
                    { $crate::rulebook::keys::count_keys(PARTS) },
                >(PARTS)
            };

            fn read(
                row: &$crate::rulebook::rows::Row,
                findings: &mut $crate::rulebook::rows::Findings<'_>,
            ) -> Self {
                #[allow(unused_mut, reason = "only what is checked afterwards may change")]
                let mut read = Self {
                    $( $field: table!(
                        @read row findings $how $field $type [$($value)?] [$($($default)?)?]
                    ), )+
                };
                $( $then(&mut read, row, findings); )?
                read
            }
        }

        table!(@entry $name [$($key)?] [$($about)+] [$($field)+]);
    };

    (@fields key $field:ident $type:ty [$key:expr] [$($help:literal)*]) => { &$key.fields() };
    (@fields part $field:ident $type:ty [] [$($help:literal)*]) => {
        <$type as $crate::rulebook::keys::Part>::FIELDS
    };
    (@fields made $field:ident $type:ty [] [$($help:literal)*]) => { &[] };
    (@fields $need:ident $field:ident $type:ty [$form:expr] [$($help:literal)+]) => {
        &$crate::rulebook::keys::Key::$need(
            stringify!($field),
            $form,
            $crate::rulebook::keys::help(concat!($($help),+)),
        )
        .fields()
    };

    (@read $row:ident $findings:ident key $field:ident $type:ty [$key:expr] $default:tt) => {
        table!(@settle $default $key.value($row, $findings))
    };
    (@read $row:ident $findings:ident part $field:ident $type:ty [] []) => {
        <$type as $crate::rulebook::keys::Part>::read($row, $findings)
    };
    (@read $row:ident $findings:ident made $field:ident $type:ty [] []) => {
        Default::default()
    };
    (@read $row:ident $findings:ident $need:ident $field:ident $type:ty [$form:expr] $default:tt) => {
        table!(@settle $default $form.value($row, stringify!($field), $findings))
    };

    (@settle [] $written:expr) => { $crate::rulebook::keys::Settle::settle($written) };
    (@settle [$default:expr] $written:expr) => { $written.unwrap_or($default) };

    (@entry $name:ident [] $about:tt $fields:tt) => {};
    (@entry $name:ident [$key:ident] [$($about:literal)+] [$($field:ident)+]) => {
        impl $crate::rulebook::keys::Table for $name {
            const KEY: &'static str = stringify!($key);
            const HELP: &'static str = $crate::rulebook::keys::help(concat!($($about),+));
        }

        impl $crate::rulebook::keys::Entry for $name {
            fn table(&self) -> &'static str {
                stringify!($key)
            }

            fn fields(&self) -> &'static [$crate::rulebook::rows::Field] {
                <Self as $crate::rulebook::keys::Part>::FIELDS
            }

            $( table! { @fact $field } )+
        }
    };

    (@fact id) => { fn id(&self) -> Option<&str> { Some(&self.id) } };
    (@fact label) => { fn label(&self) -> Option<&str> { Some(&self.label) } };
    (@fact scope) => { fn scope(&self) -> &$crate::rulebook::keys::Scope { &self.scope } };
    (@fact neutral) => { fn is_neutral(&self) -> bool { self.neutral } };
    (@fact $other:ident) => {};
}
pub(crate) use table;
