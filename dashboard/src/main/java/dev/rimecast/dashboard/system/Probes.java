package dev.rimecast.dashboard.system;

import java.util.List;

/** What a program asks that looks after this process. Asked every few seconds, by anybody: answers at once, and names no more than parts. */
public interface Probes {
    /** Whether the process can go on; one that can't is to be started anew. Nothing outside the process makes it fail. */
    Answer live();

    /** Whether it takes work now: what it runs on answers, and nothing of it holds back. */
    Answer ready();

    /**
     * An answer.
     *
     * @param failing names of the parts that say no, e.g. {@code analytics}; empty: yes
     */
    record Answer(List<String> failing) {
        public Answer {
            failing = List.copyOf(failing);
        }

        public boolean isYes() {
            return failing.isEmpty();
        }
    }
}
