package dev.rimecast.alerts.gateways;

import java.util.ArrayList;
import java.util.Comparator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;

/** Keys for as long as the process lives. */
public final class MemoryGatewayStore implements GatewayStore {
    private final Map<UUID, GatewayCredential> byId = new LinkedHashMap<>();

    @Override
    public synchronized List<GatewayCredential> all() {
        return byId.values().stream()
                .sorted(Comparator.comparing(GatewayCredential::gateway)
                        .thenComparing(GatewayCredential::addedAt, Comparator.reverseOrder()))
                .toList();
    }

    @Override
    public synchronized boolean isOfAnother(String gateway, String sha256) {
        return byId.values().stream()
                .anyMatch(one -> !one.gateway().equals(gateway)
                        && one.endedAt().isEmpty()
                        && one.key().sha256().equals(sha256));
    }

    @Override
    public synchronized List<GatewayCredential> change(
            String gateway, Function<List<GatewayCredential>, List<GatewayCredential>> change) {
        List<GatewayCredential> now = new ArrayList<>(byId.values().stream()
                .filter(one -> one.gateway().equals(gateway))
                .toList());
        List<GatewayCredential> changed = change.apply(now);
        changed.forEach(one -> byId.put(one.id(), one));
        return changed;
    }
}
