package dev.rimecast.app.command;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.PrintWriter;
import java.io.StringWriter;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CopyOnWriteArrayList;
import picocli.CommandLine;

/** A server that answers as the API's description has it, what a command asks of it, and what that prints. */
final class FakeApi implements AutoCloseable {
    final List<String> asked = new CopyOnWriteArrayList<>();
    private final Map<String, String> answers = new ConcurrentHashMap<>();
    private final StringWriter out = new StringWriter();
    private final StringWriter err = new StringWriter();
    private final HttpServer server;

    FakeApi() throws IOException {
        server = HttpServer.create(new InetSocketAddress("127.0.0.1", 0), 0);
        server.createContext("/", exchange -> {
            String request = exchange.getRequestMethod() + ' ' + exchange.getRequestURI();
            asked.add(request);
            String answer = answers.getOrDefault(request, "404 {\"detail\":\"No such message.\"}");
            byte[] bytes = answer.substring(4).getBytes(StandardCharsets.UTF_8);
            exchange.sendResponseHeaders(Integer.parseInt(answer.substring(0, 3)), bytes.length);
            exchange.getResponseBody().write(bytes);
            exchange.close();
        });
        server.start();
    }

    /**
     * @param request method and path
     * @param answer status, a space, the body; what is not here is not found
     */
    void answers(String request, String answer) {
        answers.put(request, answer);
    }

    /** Runs a command against it, with a token. */
    int run(Object command, String... arguments) {
        CommandLine line = new CommandLine(command)
                .setOut(new PrintWriter(out))
                .setErr(new PrintWriter(err))
                .setExecutionExceptionHandler(new Failures());
        String[] all = new String[2 + arguments.length];
        all[0] = "--server";
        all[1] = "http://127.0.0.1:" + server.getAddress().getPort();
        System.arraycopy(arguments, 0, all, 2, arguments.length);
        return line.execute(all);
    }

    String out() {
        return out.toString();
    }

    String err() {
        return err.toString();
    }

    @Override
    public void close() {
        server.stop(0);
    }
}
