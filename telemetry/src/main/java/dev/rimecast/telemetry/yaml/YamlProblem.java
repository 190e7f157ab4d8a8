package dev.rimecast.telemetry.yaml;

/**
 * One thing that is wrong in a document.
 *
 * @param source file name, or the environment variable that the value came from
 * @param path dotted path of the key, e.g. {@code mqtt.port} or {@code rules[2].cause}; empty for the document itself
 * @param line counted from 1; 0 where there is none, as for an environment variable
 * @param what what is wrong and what to do about it, without path and line
 */
public record YamlProblem(String source, String path, int line, String what) {

    @Override
    public String toString() {
        String place = line > 0 ? source + ':' + line : source;
        return path.isEmpty() ? place + ": " + what : place + ": " + path + ": " + what;
    }
}
