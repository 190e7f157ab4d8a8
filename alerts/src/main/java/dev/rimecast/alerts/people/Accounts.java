package dev.rimecast.alerts.people;

import dev.rimecast.alerts.view.SiteScope;
import java.time.InstantSource;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.regex.Pattern;

/**
 * What administrators do with accounts. An administrator of some sites knows and makes only accounts of those sites: an
 * account that sees another site is not there for them.
 */
public final class Accounts {
    private static final Pattern NAME =
            Pattern.compile("[\\p{L}\\p{N}][\\p{L}\\p{N} ._@+-]{0," + (Account.LONGEST_NAME - 2) + "}[\\p{L}\\p{N}]");
    /** Who writes in the audit where no person did. */
    private static final Set<String> NOBODYS = Set.of("detection", "rimecast", "rules", "somebody");

    private final PeopleStore store;
    private final RoleBook roles;
    private final Entrance entrance;
    private final InstantSource wall;

    Accounts(PeopleStore store, RoleBook roles, Entrance entrance, InstantSource wall) {
        this.store = store;
        this.roles = roles;
        this.entrance = entrance;
        this.wall = wall;
    }

    /** What is wrong with a name, in words. */
    static Optional<String> nameProblem(String name) {
        if (!NAME.matcher(name).matches()) {
            return Optional.of("a name has 2 to " + Account.LONGEST_NAME
                    + " letters, digits, spaces and . _ @ + -, and begins and ends with a letter or digit");
        }
        return NOBODYS.contains(name.toLowerCase(Locale.ROOT))
                ? Optional.of("the name " + name + " is the product's own")
                : Optional.empty();
    }

    /** Every account of which the asker may know. */
    public List<Account> list(Visitor by) {
        return store.accounts().stream()
                .filter(account -> by.sites().includes(account.sites()))
                .toList();
    }

    /** Names of those who could take care of something on a site: they see it and may say that it was seen. */
    public List<String> whoCanHave(String site) {
        return store.accounts().stream()
                .filter(Account::isEnabled)
                .filter(account -> account.sites().includes(site))
                .filter(account -> roles.of(account.role()).contains(Permission.ACKNOWLEDGE))
                .map(Account::name)
                .sorted(String.CASE_INSENSITIVE_ORDER)
                .toList();
    }

    public Optional<Account> one(Visitor by, UUID id) {
        return store.account(id).filter(account -> by.sites().includes(account.sites()));
    }

    /** Makes an account; it has no password until its link was used. */
    public Answer<Account> create(Visitor by, String name, Role role, SiteScope sites) {
        Optional<String> problem = nameProblem(name).or(() -> tooMuch(by, role, sites));
        if (problem.isPresent()) {
            return new Answer.Refused<>(problem.get());
        }
        Account account = made(name, role, sites, false);
        return store.add(account, note(by, account, "account made", described(account)))
                ? new Answer.Done<>(account)
                : new Answer.Refused<>("there is an account of that name already");
    }

    /** Changes what an account may do and see, and ends all of its sessions. */
    public Answer<Account> change(Visitor by, UUID id, Role role, SiteScope sites, boolean disabled) {
        Optional<Account> found = one(by, id);
        if (found.isEmpty()) {
            return new Answer.NotFound<>();
        }
        Account before = found.get();
        Account after = before.with(
                role, sites, disabled ? before.disabledAt().or(() -> Optional.of(wall.instant())) : Optional.empty());
        Optional<String> problem = tooMuch(by, role, sites)
                .or(() -> roles.covers(by.account().role(), before.role())
                        ? Optional.empty()
                        : Optional.of("the account may do more than you"))
                .or(() -> leavesNobody(before, after));
        if (problem.isPresent()) {
            return new Answer.Refused<>(problem.get());
        }
        store.change(after, note(by, after, "account changed", described(after)));
        entrance.changed();
        return new Answer.Done<>(after);
    }

    private Optional<String> tooMuch(Visitor by, Role role, SiteScope sites) {
        if (!role.isForPeople()) {
            return Optional.of("the role " + role.code() + " is for links, not for people");
        }
        if (!by.permissions().containsAll(roles.of(role))) {
            return Optional.of("you can't give a role that may do more than you");
        }
        return by.sites().includes(sites)
                ? Optional.empty()
                : Optional.of("you can't give sites that you don't see yourself");
    }

    /** Somebody must be left who can give others access. */
    private Optional<String> leavesNobody(Account before, Account after) {
        if (!canManageAll(before) || canManageAll(after)) {
            return Optional.empty();
        }
        boolean others = store.accounts().stream()
                .anyMatch(account -> !account.id().equals(before.id()) && canManageAll(account));
        return others
                ? Optional.empty()
                : Optional.of("this is the last account that can manage all accounts: make another one first");
    }

    private boolean canManageAll(Account account) {
        return account.isEnabled()
                && (account.hasPassword() || account.isDemo())
                && account.sites().isEvery()
                && roles.of(account.role()).contains(Permission.MANAGE_ACCOUNTS);
    }

    /** Makes sure that a demonstration has an account. */
    public Account demo(String name, Role role, SiteScope sites) {
        Optional<Account> there = store.byName(name).map(PeopleStore.Known::account);
        if (there.isPresent()) {
            return there.get();
        }
        Account account = made(name, role, sites, true);
        store.add(account, entrance.note("Rimecast", account.id(), "demo account made", described(account)));
        return account;
    }

    private Account made(String name, Role role, SiteScope sites, boolean isDemo) {
        return new Account(
                UUID.randomUUID(),
                name,
                role,
                sites,
                isDemo,
                false,
                wall.instant().truncatedTo(ChronoUnit.MILLIS),
                Optional.empty());
    }

    private AccountNote note(Visitor by, Account account, String what, String detail) {
        return entrance.note(by.person().name(), account.id(), what, detail);
    }

    static String described(Account account) {
        String sites = account.sites()
                .limit()
                .map(some -> "sites " + String.join(", ", new java.util.TreeSet<>(some)))
                .orElse("every site");
        return account.role().code() + ", " + sites + (account.isEnabled() ? "" : ", disabled");
    }
}
