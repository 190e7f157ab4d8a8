package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.dashboard.fake.FakeServer;
import org.junit.jupiter.api.Test;

/** Asking a site by a link, from the operator's page to the phone of whoever stands before the machine, and back. */
class SiteLinkIT extends Bench {
    private String alertPage() {
        return server.url(
                "/alerts/" + server.fleet().leading("ice-0003").finding().id());
    }

    /** Makes the link as the operator does and returns its address. */
    private String ask() {
        browser.go(alertPage());
        browser.find("[data-ask-site=ice-0003]").click();
        String address = browser.find("[data-secret]").getText();
        assertThat(address)
                .startsWith(server.url("/site-check#"))
                .hasSizeGreaterThan(server.url("/site-check#").length() + 40);
        assertThat(browser.violations()).isEmpty();
        return address;
    }

    /** As a phone that never signed in. */
    private void openOnAPhone(String address) {
        browser.go("about:blank");
        browser.forgetCookies();
        browser.phone();
        browser.go(address);
    }

    @Test
    void siteCheck_whoseServerIsGone_keepsTheQuestionAndSaysSo() {
        openOnAPhone(ask());
        browser.find("[data-check=air-filter]");

        server.close();
        // as of a phone that was put away and is looked at again
        browser.run("document.dispatchEvent(new Event('visibilitychange'))");

        browser.until(
                "says that there is no connection",
                b -> b.texts("[role=status]").toString().contains("no connection"));
        assertThat(browser.texts("[data-check=air-filter]")).hasSize(1);
    }

    @Test
    void link_byMail_saysWhereItWentAndShowsNoSecret() {
        browser.go(alertPage());
        browser.find("[data-mail-site=ice-0003]").click();

        browser.until(
                "says where it went",
                b -> b.texts("[data-site-link=open]").toString().contains("By mail to bar@"));

        assertThat(browser.all("[data-secret]")).isEmpty();
        assertThat(browser.all("[data-mail-site=ice-0003]")).as("one at a time").isEmpty();
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void link_answeredOnAPhone_isSeenByWhoAskedAndEndsWithAReceipt() {
        String address = ask();
        browser.complaints();
        openOnAPhone(address);
        browser.find("[data-check=air-filter]");
        assertThat(browser.texts("body").toString())
                .contains("ice-0003")
                .doesNotContain(FakeServer.OPERATOR)
                .doesNotContain("ice-0001");
        assertThat((Number) browser.run("return document.documentElement.scrollWidth"))
                .isEqualTo(390L);
        assertThat(browser.violations()).isEmpty();
        assertThat((String) browser.run("return document.cookie")).isEmpty();

        browser.find("[data-answer=was-full]").click();
        browser.find("[data-check=things-around]");
        browser.find("[data-answer=cannot]").click();
        browser.find("[data-check=air-blows]");
        browser.find("[data-answer=still-no-ice]").click();
        browser.find("[data-state=watching]");
        assertThat(browser.texts("[data-answered]")).hasSize(3);
        assertThat(browser.violations()).isEmpty();

        server.fleet().clearAll("ice-0003");
        browser.go("about:blank");
        browser.go(address);
        browser.find("[data-state=over]");
        assertThat(browser.texts("[data-state=over]").toString())
                .contains("Air filter")
                .contains("4 complete cycles")
                .contains("No visit was needed");
        assertThat(browser.violations()).isEmpty();
        assertThat(browser.complaints()).isEmpty();

        browser.wide();
        browser.go(server.url("/cases?finished=true"));
        browser.find("[data-receipt]");
        assertThat(browser.texts("[data-receipt]").toString()).contains("No visit was needed");
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void link_revoked_opensNothing() {
        String address = ask();
        browser.find("[data-revoke]").click();
        browser.find("[data-site-link=revoked]");

        openOnAPhone(address);
        browser.until("says so", b -> b.texts("[role=alert]").toString().contains("has ended"));
        assertThat(browser.all("[data-check]")).isEmpty();
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void link_whoseTimeIsOver_opensNothing() {
        String address = ask();
        server.siteLinks().passTime();

        openOnAPhone(address);
        browser.until("says so", b -> b.texts("[role=alert]").toString().contains("has ended"));
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void link_thatNobodyMade_opensNothing() {
        openOnAPhone(server.url("/site-check#nothing-like-this"));
        browser.until("says so", b -> b.texts("[role=alert]").toString().contains("No link is like that"));
        assertThat(browser.texts("body").toString()).doesNotContain("ice-0");
        assertThat(browser.violations()).isEmpty();
    }

    @Test
    void link_answeredOnTwoPhones_takesTheFirstAndShowsTheOtherWhatIsAskedNow() {
        String address = ask();
        openOnAPhone(address);
        browser.find("[data-check=air-filter]");
        String secret = address.substring(address.indexOf('#') + 1);
        assertThat(server.siteLinks().answer(secret, "air-filter", "clean")).isNotNull();

        browser.find("[data-answer=was-full]").click();

        browser.find("[data-check=things-around]");
        assertThat(browser.texts("[data-answered]")).hasSize(1);
        assertThat(browser.texts("[data-answered]").get(0)).contains("it is clean");
    }
}
