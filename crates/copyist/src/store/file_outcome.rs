//! What became of a file.

use serde::Serialize;

/// What a run did about a file, told to scripts as `"became": "kept"`.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "became", rename_all = "lowercase")]
pub enum FileOutcome {
    /// Nothing stood there.
    Made,
    /// A version of ours stood there, or an edited one that was set aside.
    Replaced {
        #[serde(skip_serializing_if = "Option::is_none")]
        edited: Option<String>,
    },
    /// An edited one stayed; the new version is beside it.
    Kept { new: String },
    /// The same stood there already.
    Untouched,
}
