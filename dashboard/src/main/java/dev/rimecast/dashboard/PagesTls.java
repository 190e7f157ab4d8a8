package dev.rimecast.dashboard;

import dev.rimecast.telemetry.net.TlsPair;
import dev.rimecast.telemetry.net.TlsWatch;
import java.io.IOException;
import java.security.GeneralSecurityException;
import java.security.KeyStore;
import java.security.SecureRandom;
import java.security.cert.Certificate;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.TimeUnit;
import org.eclipse.jetty.server.HttpConfiguration;
import org.eclipse.jetty.server.HttpConnectionFactory;
import org.eclipse.jetty.server.SecureRequestCustomizer;
import org.eclipse.jetty.server.Server;
import org.eclipse.jetty.server.ServerConnector;
import org.eclipse.jetty.server.SslConnectionFactory;
import org.eclipse.jetty.util.component.AbstractLifeCycle;
import org.eclipse.jetty.util.ssl.SslContextFactory;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * Pages over TLS 1.3 or 1.2, with forward secrecy and authenticated ciphers only (OWASP ASVS 5.0, 12.1). While it listens it looks whether the
 * certificate was renewed: who connects from then on is shown the new one, connections that are open go on.
 */
final class PagesTls extends AbstractLifeCycle implements TlsWatch.Listener {
    private static final Logger LOG = LoggerFactory.getLogger(PagesTls.class);

    private final SslContextFactory.Server context;
    private final TlsWatch watch;
    private TlsPair shown;
    private final ScheduledExecutorService looks = Executors.newSingleThreadScheduledExecutor(task -> {
        Thread thread = new Thread(task, "dashboard-certificate");
        thread.setDaemon(true);
        return thread;
    });

    private PagesTls(DashboardSettings.Tls tls) {
        shown = TlsPair.read(tls.certificate(), tls.key());
        context = new SslContextFactory.Server();
        show(context, shown);
        context.setIncludeProtocols("TLSv1.3", "TLSv1.2");
        context.setIncludeCipherSuites(
                "TLS_AES_.*_GCM_.*", "TLS_CHACHA20_.*", "TLS_ECDHE_.*_GCM_.*", "TLS_ECDHE_.*_CHACHA20_.*");
        context.setRenegotiationAllowed(false);
        watch = new TlsWatch(tls.certificate(), tls.key(), shown, this);
    }

    /** @throws IllegalArgumentException if certificate or key can't be used; says which file, and what is expected */
    static ServerConnector connector(Server server, HttpConfiguration base, DashboardSettings settings) {
        PagesTls tls = new PagesTls(settings.tls().orElseThrow());
        HttpConfiguration http = new HttpConfiguration(base);
        // Which name it was asked for is no business of the handshake: the certificate that there is goes to everybody.
        http.addCustomizer(new SecureRequestCustomizer(false));
        HttpConnectionFactory plain = new HttpConnectionFactory(http);
        ServerConnector connector =
                new ServerConnector(server, new SslConnectionFactory(tls.context, plain.getProtocol()), plain);
        connector.setHost(settings.host());
        connector.setPort(settings.port());
        connector.addBean(tls);
        return connector;
    }

    private static void show(SslContextFactory context, TlsPair pair) {
        // Of this process alone, in memory: the file that must be kept secret is the key's.
        String password = Long.toHexString(new SecureRandom().nextLong());
        try {
            KeyStore store = KeyStore.getInstance("PKCS12");
            store.load(null, null);
            store.setKeyEntry(
                    "pages", pair.key(), password.toCharArray(), pair.chain().toArray(new Certificate[0]));
            context.setKeyStore(store);
        } catch (GeneralSecurityException | IOException e) {
            throw new IllegalArgumentException(pair + " doesn't serve for TLS: " + e.getMessage(), e);
        }
        context.setKeyStorePassword(password);
    }

    @Override
    protected void doStart() {
        var unused = looks.scheduleWithFixedDelay(
                watch::look, TlsWatch.EVERY.toMillis(), TlsWatch.EVERY.toMillis(), TimeUnit.MILLISECONDS);
    }

    @Override
    protected void doStop() {
        looks.shutdownNow();
    }

    @Override
    public void renewed(TlsPair pair) {
        try {
            reload(pair);
        } catch (IllegalStateException e) {
            reload(shown);
            throw e;
        }
        shown = pair;
        LOG.info("the pages show a new certificate: {}", pair);
    }

    private void reload(TlsPair pair) {
        try {
            context.reload(each -> show(each, pair));
        } catch (Exception e) {
            throw new IllegalStateException("it is not taken: " + e.getMessage(), e);
        }
    }

    @Override
    public void kept(String why) {
        LOG.warn("the certificate of the pages has changed and can't be used, the one before stays: {}", why);
    }
}
