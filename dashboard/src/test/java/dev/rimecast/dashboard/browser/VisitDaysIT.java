package dev.rimecast.dashboard.browser;

import static org.assertj.core.api.Assertions.assertThat;

import dev.rimecast.alerts.people.Role;
import dev.rimecast.alerts.view.SiteScope;
import dev.rimecast.dashboard.fake.FakeServer;
import java.time.Instant;
import java.util.List;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;

/** Which day it is where UTC has another: at half past ten in the evening of the fourth it is the fifth in Oslo and Tokyo. */
class VisitDaysIT extends Bench {
    private static final Instant LATE = Instant.parse("2026-05-04T22:30:00Z");

    @BeforeEach
    void managerInTokyo() {
        server.close();
        server = FakeServer.demonstration(() -> LATE, "A demonstration.");
        server.account("Mara", Role.MANAGER, SiteScope.EVERY);
        browser.zone("Asia/Tokyo");
        browser.forgetCookies();
        browser.go(server.url("/sign-in"));
        press("Enter as Mara");
        browser.until("Mara", b -> b.texts(".who-am-i a").equals(List.of("Mara")));
        browser.go(server.url("/visits?site=site-1"));
        browser.until("the plan", b -> !b.all("[data-new-visit]").isEmpty());
    }

    @AfterEach
    void asTheMachineIs() {
        browser.zone("");
    }

    @Test
    void days_atAGlance_beginWithTheReadersToday() {
        assertThat(browser.find(".days li").getAttribute("data-day")).isEqualTo("2026-05-05");
    }

    @Test
    void newVisit_isForTheSitesTomorrow_untilSomebodySaysAnother() {
        browser.find("[data-new-visit]").click();
        browser.until("the form", b -> !b.all("dialog [name=day]").isEmpty());

        assertThat(browser.run("return document.querySelector('dialog [name=day]').value"))
                .isEqualTo("2026-05-06");
    }
}
