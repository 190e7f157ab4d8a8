package dev.rimecast.telemetry.yaml;

import org.snakeyaml.engine.v2.exceptions.Mark;
import org.snakeyaml.engine.v2.nodes.Node;

/** Where a node stands. */
final class Lines {

    private Lines() {}

    /** Line of the node's first character, counted from 1; 0 where the parser kept none. */
    static int of(Node node) {
        return node.getStartMark().map(Mark::getLine).orElse(-1) + 1;
    }
}
