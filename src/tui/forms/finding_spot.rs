//! How an answer names the finding it belongs to.

use crate::attempt::FindingId;
use crate::review::Finding;

/// Where a finding is and what it is about.
#[must_use]
pub fn spot(finding: &Finding) -> FindingId {
    let kind = serde_json::to_value(finding.kind);
    let kind = kind.ok().and_then(|k| k.as_str().map(str::to_owned));
    FindingId {
        at: finding.at,
        kind: kind.unwrap_or_default(),
        resource: finding.resource.clone(),
    }
}
