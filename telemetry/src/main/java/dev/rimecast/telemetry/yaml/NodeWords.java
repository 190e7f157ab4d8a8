package dev.rimecast.telemetry.yaml;

import org.snakeyaml.engine.v2.nodes.MappingNode;
import org.snakeyaml.engine.v2.nodes.Node;
import org.snakeyaml.engine.v2.nodes.ScalarNode;
import org.snakeyaml.engine.v2.nodes.SequenceNode;
import org.snakeyaml.engine.v2.nodes.Tag;

/** What a node is, in the words of a message. */
final class NodeWords {

    private NodeWords() {}

    static boolean isNull(Node node) {
        return node instanceof ScalarNode && node.getTag().equals(Tag.NULL);
    }

    static String of(Node node) {
        if (node instanceof MappingNode) {
            return "keys with values";
        }
        if (node instanceof SequenceNode) {
            return "a list";
        }
        return node instanceof ScalarNode scalar
                ? new Scalar(scalar.getValue(), scalar.getTag(), true).described()
                : "something else";
    }
}
