package dev.rimecast.alerts.rules;

class MemoryRuleStoreTest extends RuleStoreContract {
    private final RuleStore store = new MemoryRuleStore();

    @Override
    protected RuleStore store() {
        return store;
    }
}
