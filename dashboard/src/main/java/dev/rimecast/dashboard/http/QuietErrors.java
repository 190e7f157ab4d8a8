package dev.rimecast.dashboard.http;

import org.eclipse.jetty.http.HttpHeader;
import org.eclipse.jetty.io.Content;
import org.eclipse.jetty.server.Request;
import org.eclipse.jetty.server.Response;
import org.eclipse.jetty.util.Callback;

/**
 * What is answered to what is no HTTP, which reaches no route: the status, the same headers, and nothing of the server's own page
 * that would tell what it runs on.
 */
public final class QuietErrors implements Request.Handler {
    @Override
    public boolean handle(Request request, Response response, Callback callback) {
        boolean overTls = request.getConnectionMetaData().isSecure();
        SecurityHeaders.each(overTls, (name, value) -> response.getHeaders().put(name, value));
        response.getHeaders().put(HttpHeader.CACHE_CONTROL, "no-store");
        response.getHeaders().put(HttpHeader.CONTENT_TYPE, "text/plain;charset=utf-8");
        Content.Sink.write(response, true, "refused: " + response.getStatus() + "\n", callback);
        return true;
    }
}
