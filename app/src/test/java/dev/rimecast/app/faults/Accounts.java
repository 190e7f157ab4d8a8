package dev.rimecast.app.faults;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import java.util.TreeMap;

/** Ledgers read back, as sets. */
final class Accounts {
    /** A pack's name. */
    record Pack(String gateway, String boot, long seq) {}

    /** A gateway's count. */
    private record Count(String gateway, String boot) {}

    private final Map<Pack, String> sent = new HashMap<>();
    private final Set<Pack> receipted = new HashSet<>();
    private final Map<Count, Long> coveredUpTo = new HashMap<>();
    private final List<String> changedContent = new ArrayList<>();

    private Accounts() {}

    /** A last line without its end was torn, and is as if it had not been written. */
    static Accounts read(Path... ledgers) throws IOException {
        Accounts accounts = new Accounts();
        for (Path ledger : ledgers) {
            if (Files.exists(ledger)) {
                String text = Files.readString(ledger);
                text.substring(0, text.lastIndexOf('\n') + 1).lines().forEach(accounts::take);
            }
        }
        return accounts;
    }

    private void take(String line) {
        String[] words = line.split(" ");
        Pack pack = new Pack(words[1], words[2], Long.parseLong(words[3]));
        switch (words[0]) {
            case "S" -> {
                String before = sent.put(pack, words[4]);
                if (before != null && !before.equals(words[4])) {
                    changedContent.add(line);
                }
            }
            case "R" -> receipted.add(pack);
            case "C" -> coveredUpTo.merge(new Count(pack.gateway(), pack.boot()), pack.seq(), Math::max);
            default -> throw new IllegalArgumentException("no line of a ledger: " + line);
        }
    }

    Set<Pack> sent() {
        return sent.keySet();
    }

    String sha256(Pack pack) {
        return Objects.requireNonNull(sent.get(pack), pack.toString());
    }

    Set<Pack> receipted() {
        return receipted;
    }

    boolean isCovered(Pack pack) {
        return pack.seq() <= coveredUpTo.getOrDefault(new Count(pack.gateway(), pack.boot()), 0L);
    }

    Set<Pack> covered() {
        Set<Pack> covered = new HashSet<>(sent.keySet());
        covered.removeIf(pack -> !isCovered(pack));
        return covered;
    }

    /** Packs sent that nobody has said to be stored. */
    Set<Pack> uncovered() {
        Set<Pack> uncovered = new HashSet<>(sent.keySet());
        uncovered.removeIf(this::isCovered);
        return uncovered;
    }

    /** Sends of a number that had other content before: a mistake of the gateway. */
    List<String> changedContent() {
        return changedContent;
    }

    /** The last number that each gateway has sent, and how far it is covered. */
    String inWords() {
        Map<String, String> words = new TreeMap<>();
        Map<Count, Long> last = new HashMap<>();
        sent.keySet().forEach(pack -> last.merge(new Count(pack.gateway(), pack.boot()), pack.seq(), Math::max));
        last.forEach((count, seq) ->
                words.put(count.gateway() + '/' + count.boot(), coveredUpTo.getOrDefault(count, 0L) + "/" + seq));
        return "covered/sent " + words;
    }
}
