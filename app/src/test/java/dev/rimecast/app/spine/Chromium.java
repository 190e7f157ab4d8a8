package dev.rimecast.app.spine;

import java.nio.file.Path;
import java.time.Duration;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;
import org.openqa.selenium.By;
import org.openqa.selenium.Cookie;
import org.openqa.selenium.StaleElementReferenceException;
import org.openqa.selenium.TimeoutException;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.support.ui.WebDriverWait;

/** A real browser on the real server, with a profile of its own. Skips the test where there is none. */
public final class Chromium implements AutoCloseable {
    private static final Duration PATIENCE = Duration.ofSeconds(40);

    private final ChromeDriver driver;

    private Chromium(ChromeDriver driver) {
        this.driver = driver;
    }

    /** Opens one whose {@code profile} is a directory that does not exist yet. */
    public static Chromium open(Path profile) {
        ChromeOptions options = new ChromeOptions();
        options.setBinary(OptionalParts.chromium().toString());
        options.addArguments(
                "--headless=new",
                "--no-sandbox",
                "--disable-gpu",
                "--no-first-run",
                "--disable-background-networking",
                "--disable-component-update",
                "--disable-sync",
                "--disable-dev-shm-usage",
                "--window-size=1400,1000",
                "--user-data-dir=" + profile);
        ChromeDriverService service = new ChromeDriverService.Builder()
                .usingDriverExecutable(OptionalParts.chromedriver().toFile())
                .build();
        return new Chromium(new ChromeDriver(service, options));
    }

    /** Comes in as somebody who has signed in; the address may be one of a proxy. */
    void enter(String address, Http who) {
        go(address + "/sign-in");
        driver.manage().deleteAllCookies();
        String[] cookie = who.by(address).cookie().split("=", 2);
        driver.manage().addCookie(new Cookie(cookie[0], cookie[1]));
    }

    /** As somebody who never signed in. */
    void forgetEverybody() {
        driver.executeCdpCommand("Network.clearBrowserCookies", Map.of());
    }

    public void go(String url) {
        driver.get(url);
    }

    void phone() {
        size(390, 844, true);
    }

    void wide() {
        size(1400, 1000, false);
    }

    private void size(int width, int height, boolean mobile) {
        driver.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", mobile));
    }

    /** As over a weak mobile connection: each answer takes so long to begin, and so many bytes come a second. */
    void slow(int latencyMillis, int bytesPerSecond) {
        driver.executeCdpCommand("Network.enable", Map.of());
        driver.executeCdpCommand(
                "Network.emulateNetworkConditions",
                Map.of(
                        "offline",
                        false,
                        "latency",
                        latencyMillis,
                        "downloadThroughput",
                        bytesPerSecond,
                        "uploadThroughput",
                        bytesPerSecond));
    }

    void fast() {
        slow(0, -1);
    }

    /** What is there of a selector, without waiting. */
    List<WebElement> all(String css) {
        return driver.findElements(By.cssSelector(css));
    }

    /** The first of a selector, as soon as there is one. */
    public WebElement find(String css) {
        return until(css, () -> all(css).stream().findFirst().orElse(null));
    }

    /** Clicks it as soon as it is there, also where the page is just drawn again. */
    public void click(String css) {
        until("to click " + css, () -> {
            find(css).click();
            return true;
        });
    }

    /** The same for the first button with just this text. */
    public void press(String text) {
        clickText("button", text);
    }

    /** The same for the first link of the content. */
    void follow(String text) {
        clickText("main a", text);
    }

    private void clickText(String css, String text) {
        until(
                css + ' ' + text,
                () -> Boolean.TRUE.equals(driver.executeScript(
                                "const found = [...document.querySelectorAll(arguments[0])].find(e => e.textContent === arguments[1]);"
                                        + "found?.click(); return Boolean(found)",
                                css,
                                text))
                        ? true
                        : null);
    }

    /** Writes into a field, wherever on the page it is, as if somebody had left it then. */
    void write(String css, String value) {
        find(css);
        driver.executeScript(
                "const i = document.querySelector(arguments[0]); i.value = arguments[1];"
                        + " i.dispatchEvent(new Event('change', {bubbles: true}))",
                css,
                value);
    }

    /** Waits until the text of a selector has all of these parts, and returns it. */
    public String text(String css, String... parts) {
        return until(css + " says " + List.of(parts), () -> {
            String text = String.join(
                    " ",
                    all(css).stream().map(e -> e.getDomProperty("textContent")).toList());
            return !text.isEmpty() && List.of(parts).stream().allMatch(text::contains) ? text : null;
        });
    }

    /** Waits until nothing of a selector is there any more. */
    void gone(String css) {
        until(css + " is gone", () -> all(css).isEmpty() ? true : null);
    }

    /** Whether it comes to have this text within a few seconds. */
    public boolean comesToSay(String css, String part) {
        try {
            return new WebDriverWait(driver, Duration.ofSeconds(10), Duration.ofMillis(100))
                    .ignoring(StaleElementReferenceException.class)
                    .until(ignored -> all(css).stream()
                            .anyMatch(e -> String.valueOf(e.getDomProperty("textContent"))
                                    .contains(part)));
        } catch (TimeoutException e) {
            return false;
        }
    }

    private <T> T until(String what, Supplier<@Nullable T> value) {
        return Objects.requireNonNull(new WebDriverWait(driver, PATIENCE, Duration.ofMillis(100))
                .ignoring(StaleElementReferenceException.class)
                .withMessage(() -> what + " at " + driver.getCurrentUrl())
                .until(ignored -> value.get()));
    }

    @Override
    public void close() {
        driver.quit();
    }
}
