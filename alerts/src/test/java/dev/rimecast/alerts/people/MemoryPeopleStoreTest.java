package dev.rimecast.alerts.people;

class MemoryPeopleStoreTest extends PeopleStoreContract {
    private final PeopleStore store = new MemoryPeopleStore();

    @Override
    protected PeopleStore store() {
        return store;
    }
}
