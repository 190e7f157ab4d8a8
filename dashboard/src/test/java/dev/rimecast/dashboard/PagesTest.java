package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.io.IOException;
import java.net.http.HttpResponse;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

class PagesTest {
    private static final Path WEB = Path.of("src/main/resources/dev/rimecast/dashboard/web");
    private static final Pattern LINK = Pattern.compile("(?:href|src)=\"(/assets/[^\"]+)\"");
    private static final Pattern IMPORT = Pattern.compile("from\\s*['\"](\\.{1,2}/[^'\"]+)['\"]");
    private static final List<String> PAGES = List.of(
            "/",
            "/alerts",
            "/alerts/x",
            "/alerts/x/why",
            "/cases",
            "/machines/ice-0003",
            "/visits",
            "/visits/x",
            "/work-report/ice-0003",
            "/care/ice-0003",
            "/site-care/site-1",
            "/commissioning/ice-0003",
            "/figures",
            "/events",
            "/notices",
            "/rules",
            "/rules/priority",
            "/thresholds",
            "/system",
            "/accounts",
            "/account",
            "/tokens",
            "/sign-in",
            "/site-check",
            "/wall");
    private static FakeServer server;
    private static Web web;

    @BeforeAll
    static void start() {
        server = FakeServer.start(FakeFleets::small);
        web = new Web(server);
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    @Test
    void page_everyOne_hasATitleOfItsOwn() {
        assertThat(web.get("/").body()).contains("<title>Fleet");
        assertThat(web.get("/alerts").body()).contains("<title>Alerts");
        assertThat(web.get("/cases").body()).contains("<title>Cases");
        assertThat(web.get("/machines/ice-0003").body()).contains("<title>Machine");
        assertThat(web.get("/alerts/x").body()).contains("<title>Alert ");
    }

    @Test
    void page_unknownAddress_isNotFoundAsAPage() {
        HttpResponse<String> answer = web.get("/nothing", "Accept", "text/html");

        assertThat(answer.statusCode()).isEqualTo(404);
        assertThat(answer.body()).contains("<title>Not found");
    }

    /** The budget of a first visit, with everything that the page links to or imports: 150 KiB packed. */
    @Test
    void firstView_everyPage_staysBelowItsBudget() {
        for (String page : PAGES) {
            long bytes = firstView(page);
            assertThat(bytes).as(page).isBetween(5_000L, 150L * 1024);
            System.out.printf("first view of %s: %.1f KiB packed%n", page, bytes / 1024.0);
        }
    }

    private static long firstView(String page) {
        Set<String> seen = new LinkedHashSet<>();
        Matcher links = LINK.matcher(web.get(page).body());
        long bytes = packed(page);
        while (links.find()) {
            bytes += visit(links.group(1), seen);
        }
        return bytes;
    }

    private static long visit(String path, Set<String> seen) {
        if (!seen.add(path)) {
            return 0;
        }
        HttpResponse<String> file = web.get(path);
        assertThat(file.statusCode()).as(path).isEqualTo(200);
        assertThat(file.headers().firstValue("Cache-Control").orElseThrow()).contains("immutable");
        long bytes = packed(path);
        if (path.endsWith(".js") && !path.contains("/lib/uplot/")) {
            Matcher imports = IMPORT.matcher(file.body());
            while (imports.find()) {
                bytes += visit(
                        Path.of(path)
                                .resolveSibling(imports.group(1))
                                .normalize()
                                .toString(),
                        seen);
            }
        }
        return bytes;
    }

    /** A browser that is not told of a module learns of it from the one before, each of them a way there and back later. */
    @Test
    void page_everyOne_namesEachModuleThatItNeeds() {
        for (String page : PAGES) {
            Set<String> named = new LinkedHashSet<>();
            Matcher links = LINK.matcher(web.get(page).body());
            while (links.find()) {
                named.add(links.group(1));
            }
            Set<String> needed = new LinkedHashSet<>();
            named.forEach(each -> visit(each, needed));
            assertThat(named).as(page).hasSizeGreaterThan(10).containsExactlyInAnyOrderElementsOf(needed);
        }
    }

    private static long packed(String path) {
        return web.bytes(path, "Accept-Encoding", "gzip").body().length;
    }

    @Test
    void assetsList_everyFileOfOurs_isListed() throws IOException {
        String list = Files.readString(WEB.resolve("assets.list"));
        try (Stream<Path> files = Files.walk(WEB)) {
            assertThat(files.filter(Files::isRegularFile)
                            .map(file -> WEB.relativize(file).toString())
                            .filter(name -> !name.endsWith(".html") && !name.equals("assets.list")))
                    .allSatisfy(name -> assertThat(list.lines()).contains(name));
        }
    }
}
