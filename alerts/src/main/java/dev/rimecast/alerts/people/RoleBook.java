package dev.rimecast.alerts.people;

import dev.rimecast.telemetry.yaml.Yaml;
import dev.rimecast.telemetry.yaml.YamlMap;
import dev.rimecast.telemetry.yaml.YamlType;
import java.util.EnumMap;
import java.util.EnumSet;
import java.util.Map;
import java.util.Set;

/** {@code roles.yaml}: the table of what each role may do. */
public record RoleBook(Map<Role, Set<Permission>> permissions) {

    public RoleBook {
        permissions = Map.copyOf(permissions);
    }

    /** The table that comes with the product. */
    public static RoleBook standard() {
        return parse("roles.yaml", Yaml.text(RoleBook.class, "roles.yaml"));
    }

    /**
     * @param source what problems call the text
     * @throws dev.rimecast.telemetry.yaml.YamlProblems with everything that is missing or wrong
     */
    static RoleBook parse(String source, String yaml) {
        return Yaml.read(source, yaml, document -> {
            Map<Role, Set<Permission>> table = new EnumMap<>(Role.class);
            Set<Permission> given = EnumSet.noneOf(Permission.class);
            for (Role role : Role.values()) {
                Set<Permission> allowed = permissions(document, role);
                table.put(role, Set.copyOf(allowed));
                given.addAll(allowed);
            }
            for (Permission permission : Permission.values()) {
                if (!given.contains(permission)) {
                    document.problem("no role has the permission " + permission.code());
                }
            }
            return new RoleBook(table);
        });
    }

    private static Set<Permission> permissions(YamlMap document, Role role) {
        if (!document.has(role.code())) {
            document.problem("lacks the role " + role.code());
            return Set.of();
        }
        Set<Permission> allowed = EnumSet.noneOf(Permission.class);
        allowed.addAll(document.list(role.code(), YamlType.oneOf(Permission.class, Permission::code)));
        return allowed;
    }

    public Set<Permission> of(Role role) {
        return permissions.getOrDefault(role, Set.of());
    }

    /** Whether one role may do all that the other may. */
    public boolean covers(Role one, Role other) {
        return of(one).containsAll(of(other));
    }
}
