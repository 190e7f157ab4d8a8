package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeFleets;
import dev.rimecast.dashboard.fake.FakeServer;
import java.net.http.HttpResponse;
import java.util.List;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;

/** Answers with secrets in them, links of sites and keys of gateways, against the schemas of docs/openapi.yaml. */
class OpenApiSecretsTest {
    private static FakeServer server;
    private static Web web;
    private static OpenApiDocument document;

    @BeforeAll
    static void start() {
        server = FakeServer.start(FakeFleets::small);
        web = new Web(server);
        document = OpenApiDocument.read();
    }

    @AfterAll
    static void stop() {
        server.close();
    }

    @Test
    void keysOfGateways_fitTheirSchemas() {
        Web administrator = new Web(server, server.headers(server.account("Ada", Role.ADMINISTRATOR, SiteScope.EVERY)));
        String path = "/api/v1/gateways/gw-1/credentials";
        String schema = "/api/v1/gateways/{gateway}/credentials";
        assertThat(document.errors(
                        schema,
                        "post",
                        "201",
                        "application~1json",
                        administrator.post(path, "{}").body()))
                .isEmpty();
        assertThat(document.errors(
                        schema + "/rotate",
                        "post",
                        "201",
                        "application~1json",
                        administrator
                                .post(path + "/rotate", "{\"graceHours\":1}")
                                .body()))
                .isEmpty();
        assertThat(document.errors(
                        schema + "/revoke",
                        "post",
                        "200",
                        "application~1json",
                        administrator.post(path + "/revoke", "{}").body()))
                .isEmpty();
        assertThat(document.errors(
                        "/api/v1/gateway-credentials",
                        "get",
                        "200",
                        "application~1json",
                        administrator.get("/api/v1/gateway-credentials").body()))
                .isEmpty();
    }

    @Test
    void siteLinkByMail_fitsItsSchema_andTellsNoSecret() {
        String id = server.fleet().leading("ice-0003").caseId().orElseThrow().toString();
        String path = "/api/v1/cases/" + id + "/site-links";

        HttpResponse<String> mailed = web.post(path, "{\"machine\":\"ice-0003\",\"send\":\"mail\"}");

        assertThat(document.errors(
                        "/api/v1/cases/{case}/site-links", "post", "200", "application~1json", mailed.body()))
                .isEmpty();
        assertThat(Web.parse(mailed).has("secret")).isFalse();
        assertThat(Web.parse(mailed).path("link").path("mailedTo").stringValue())
                .startsWith("bar@");
        assertThat(web.post(path, "{\"machine\":\"ice-0003\",\"send\":\"fax\"}").statusCode())
                .isEqualTo(400);
    }

    @Test
    void siteLinks_ofTheServer_fitTheirSchemas() {
        String id = server.fleet().leading("ice-0003").caseId().orElseThrow().toString();
        HttpResponse<String> made = web.post("/api/v1/cases/" + id + "/site-links", "{\"machine\":\"ice-0003\"}");
        assertThat(document.errors("/api/v1/cases/{case}/site-links", "post", "200", "application~1json", made.body()))
                .isEmpty();
        assertThat(made.headers().firstValue("Cache-Control")).hasValue("no-store");
        String secret = Web.parse(made).path("secret").stringValue();
        Web nobody = new Web(server, List.of());
        HttpResponse<String> asked = nobody.post("/api/v1/site-check", "{\"link\":\"" + secret + "\"}");
        HttpResponse<String> answered = nobody.post(
                "/api/v1/site-check/answers",
                "{\"link\":\"" + secret + "\",\"check\":\"air-filter\",\"answer\":\"was-full\"}");

        assertThat(document.errors("/api/v1/site-check", "post", "200", "application~1json", asked.body()))
                .isEmpty();
        assertThat(asked.headers().firstValue("Cache-Control")).hasValue("no-store");
        assertThat(asked.headers().firstValue("Referrer-Policy")).hasValue("no-referrer");
        assertThat(asked.headers().firstValue("Set-Cookie")).isEmpty();
        assertThat(asked.body()).doesNotContain(FakeServer.OPERATOR);
        assertThat(document.errors("/api/v1/site-check/answers", "post", "200", "application~1json", answered.body()))
                .isEmpty();
        assertThat(document.errors(
                        "/api/v1/site-links",
                        "get",
                        "200",
                        "application~1json",
                        web.get("/api/v1/site-links").body()))
                .isEmpty();
        HttpResponse<String> weighed = nobody.post(
                "/api/v1/site-check/weighed-harvests", "{\"link\":\"" + secret + "\",\"kilograms\":\"1.25\"}");
        assertThat(document.errors(
                        "/api/v1/site-check/weighed-harvests", "post", "200", "application~1json", weighed.body()))
                .isEmpty();
        assertThat(nobody.post(
                                "/api/v1/site-check/weighed-harvests",
                                "{\"link\":\"" + secret + "\",\"kilograms\":\"1,2\"}")
                        .statusCode())
                .isEqualTo(400);
        assertThat(nobody.post("/api/v1/site-check", "{\"link\":\"x\"}").statusCode())
                .isEqualTo(404);
        server.siteLinks().passTime();
        assertThat(nobody.post("/api/v1/site-check", "{\"link\":\"" + secret + "\"}")
                        .statusCode())
                .isEqualTo(410);
    }
}
