use landlock::{
    ABI, Access as _, AccessFs, AccessNet, Ruleset, RulesetAttr as _, RulesetError, RulesetStatus,
    Scope,
};

/// Shuts this process off from every file by name, from every port and from other processes, as far
/// as the kernel can; returns whether it can at all.
pub(super) fn shut() -> bool {
    let shut = || -> Result<RulesetStatus, RulesetError> {
        let newest = ABI::V6;
        // Without a single rule nothing is left that may be reached.
        let ruleset = Ruleset::default()
            .handle_access(AccessFs::from_all(newest))?
            .handle_access(AccessNet::from_all(newest))?
            .scope(Scope::from_all(newest))?;
        Ok(ruleset.create()?.restrict_self()?.ruleset)
    };
    shut().is_ok_and(|status| status != RulesetStatus::NotEnforced)
}
