package dev.rimecast.dashboard.browser;

import com.google.zxing.BinaryBitmap;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.ReaderException;
import com.google.zxing.common.HybridBinarizer;
import com.google.zxing.qrcode.QRCodeReader;
import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Duration;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Predicate;
import java.util.logging.Level;
import java.util.stream.Stream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Assumptions;
import org.openqa.selenium.By;
import org.openqa.selenium.OutputType;
import org.openqa.selenium.WebElement;
import org.openqa.selenium.chrome.ChromeDriver;
import org.openqa.selenium.chrome.ChromeDriverService;
import org.openqa.selenium.chrome.ChromeOptions;
import org.openqa.selenium.interactions.Actions;
import org.openqa.selenium.logging.LogEntry;
import org.openqa.selenium.logging.LogType;
import org.openqa.selenium.logging.LoggingPreferences;
import org.openqa.selenium.support.ui.WebDriverWait;

/** A real browser with a profile of its own, thrown away afterwards. */
final class Browser implements AutoCloseable {
    private static final Path CHROMIUM = Path.of("/usr/bin/chromium");
    private static final Path DRIVER = Path.of("/usr/bin/chromedriver");
    private static final Duration PATIENCE = Duration.ofSeconds(20);

    private final ChromeDriver driver;
    private final Path profile;

    private Browser(ChromeDriver driver, Path profile) {
        this.driver = driver;
        this.profile = profile;
    }

    /** Skips the test where there is no browser, unless RIMECAST_REQUIRE_BROWSER is true. */
    static Browser open() {
        boolean there = Files.isExecutable(CHROMIUM) && Files.isExecutable(DRIVER);
        if (!there && !"true".equals(System.getenv("RIMECAST_REQUIRE_BROWSER"))) {
            System.out.println("skipped: needs " + CHROMIUM + " and " + DRIVER);
            Assumptions.abort("needs " + CHROMIUM + " and " + DRIVER);
        }
        try {
            Path profile = Files.createTempDirectory("rimecast-browser");
            ChromeOptions options = new ChromeOptions();
            options.setBinary(CHROMIUM.toFile());
            options.addArguments(
                    "--headless=new",
                    "--no-sandbox",
                    "--disable-gpu",
                    "--disable-background-networking",
                    "--no-first-run",
                    "--disable-dev-shm-usage",
                    "--user-data-dir=" + profile,
                    "--window-size=1400,1000");
            LoggingPreferences logs = new LoggingPreferences();
            logs.enable(LogType.BROWSER, Level.ALL);
            options.setCapability("goog:loggingPrefs", logs);
            ChromeDriverService service = new ChromeDriverService.Builder()
                    .usingDriverExecutable(DRIVER.toFile())
                    .build();
            return new Browser(new ChromeDriver(service, options), profile);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    void go(String url) {
        driver.get(url);
    }

    /** As a phone: narrow, and reported as such to the page. */
    void phone() {
        size(390, 844, true);
    }

    void wide() {
        size(1400, 1000, false);
    }

    /** As a window so wide, in CSS pixels: a text enlarged in a wide one, too. */
    void width(int width) {
        size(width, 900, false);
    }

    private void size(int width, int height, boolean mobile) {
        driver.executeCdpCommand(
                "Emulation.setDeviceMetricsOverride",
                Map.of("width", width, "height", height, "deviceScaleFactor", 1, "mobile", mobile));
    }

    void scheme(String scheme) {
        media("prefers-color-scheme", scheme);
    }

    /** With this one feature of the reader's, on a screen. */
    void media(String feature, String value) {
        driver.executeCdpCommand(
                "Emulation.setEmulatedMedia",
                Map.of("media", "", "features", List.of(Map.of("name", feature, "value", value))));
    }

    /** As it comes out of a printer, until another medium is chosen. */
    void printed() {
        driver.executeCdpCommand("Emulation.setEmulatedMedia", Map.of("media", "print"));
    }

    /** As over a weak mobile connection: each answer takes so long to begin, and so many bytes come a second. */
    void slow(int latencyMillis, int bytesPerSecond) {
        network(latencyMillis, bytesPerSecond);
    }

    void fast() {
        network(0, -1);
    }

    private void network(int latencyMillis, int bytesPerSecond) {
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

    /** As of somebody with this language and region; empty for the machine's own again. */
    void locale(String tag) {
        driver.executeCdpCommand("Emulation.setLocaleOverride", Map.of("locale", tag));
    }

    /** As of somebody in that time zone; empty for the machine's own again. */
    void zone(String name) {
        driver.executeCdpCommand("Emulation.setTimezoneOverride", Map.of("timezoneId", name));
    }

    /** Runs in every page that is opened from now on, before anything of its own. */
    void beforeEachPage(String script) {
        driver.executeCdpCommand("Page.addScriptToEvaluateOnNewDocument", Map.of("source", script));
    }

    /** As a browser that holds no file of ours. */
    void forgetFiles() {
        driver.executeCdpCommand("Network.clearBrowserCache", Map.of());
    }

    /** As a browser that was never here. */
    void forgetCookies() {
        driver.executeCdpCommand("Network.clearBrowserCookies", Map.of());
    }

    /** The first element of a selector, as soon as there is one. */
    WebElement find(String css) {
        return await(
                () -> driver.findElements(By.cssSelector(css)).stream()
                        .findFirst()
                        .orElse(null),
                css);
    }

    List<WebElement> all(String css) {
        return driver.findElements(By.cssSelector(css));
    }

    /** Texts of all elements of a selector, read at one moment. */
    @SuppressWarnings("unchecked")
    List<String> texts(String css) {
        return (List<String>) run("return [...document.querySelectorAll(arguments[0])].map(e => e.textContent)", css);
    }

    void until(String what, Predicate<Browser> condition) {
        await(() -> condition.test(this) ? Boolean.TRUE : null, what);
    }

    private <T> T await(java.util.function.Supplier<@org.jspecify.annotations.Nullable T> value, String what) {
        return Objects.requireNonNull(new WebDriverWait(driver, PATIENCE, Duration.ofMillis(100))
                .withMessage(what)
                .until(ignored -> value.get()));
    }

    /** As on the keyboard, wherever the focus is. */
    void keys(CharSequence... keys) {
        new Actions(driver).sendKeys(keys).perform();
    }

    /** With the mouse across an element, from and to so many pixels from its left. */
    void drag(WebElement across, int from, int to) {
        int middle = across.getSize().getWidth() / 2;
        new Actions(driver)
                .moveToElement(across, from - middle, 0)
                .clickAndHold()
                .moveByOffset((to - from) / 2, 0)
                .moveByOffset(to - from - (to - from) / 2, 0)
                .release()
                .perform();
    }

    Object run(String script, Object... arguments) {
        return Objects.requireNonNullElse(driver.executeScript(script, arguments), "");
    }

    Object runAsync(String script, Object... arguments) {
        driver.manage().timeouts().scriptTimeout(Duration.ofSeconds(60));
        return Objects.requireNonNullElse(driver.executeAsyncScript(script, arguments), "");
    }

    /** What a camera reads that looks at a QR code on the screen; by the pixels that are shown. */
    String scanned(String css) {
        byte[] picture = find(css).getScreenshotAs(OutputType.BYTES);
        try {
            BufferedImage image = ImageIO.read(new ByteArrayInputStream(picture));
            int[] pixels = image.getRGB(0, 0, image.getWidth(), image.getHeight(), null, 0, image.getWidth());
            BinaryBitmap seen = new BinaryBitmap(
                    new HybridBinarizer(new RGBLuminanceSource(image.getWidth(), image.getHeight(), pixels)));
            return new QRCodeReader().decode(seen).getText();
        } catch (IOException | ReaderException e) {
            throw new AssertionError("no QR code in what " + css + " shows", e);
        }
    }

    /** What the page complained about since the last time that it was asked. */
    List<String> complaints() {
        return driver.manage().logs().get(LogType.BROWSER).getAll().stream()
                .filter(entry -> entry.getLevel().intValue() >= Level.WARNING.intValue())
                .map(LogEntry::getMessage)
                .toList();
    }

    /** Rules of WCAG 2.2 AA and best practices that the page breaks, with what breaks them; by axe-core. */
    @SuppressWarnings("unchecked")
    List<String> violations() {
        run(axe());
        return (List<String>)
                runAsync("const done = arguments[0]; axe.run(document, {resultTypes: ['violations']}).then("
                        + "r => done(r.violations.map(v => v.id + ': ' + v.nodes.map(n => n.target + ' ' + n.failureSummary)"
                        + ".join(' | '))), e => done([String(e)]))");
    }

    private static String axe() {
        try (InputStream in = Objects.requireNonNull(Browser.class.getResourceAsStream("/axe.min.js"))) {
            return new String(in.readAllBytes(), StandardCharsets.UTF_8);
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    @Override
    public void close() {
        driver.quit();
        try (Stream<Path> files = Files.walk(profile)) {
            files.sorted(Comparator.reverseOrder())
                    .forEach(file -> file.toFile().delete());
        } catch (IOException | UncheckedIOException e) {
            // the browser may still be deleting its own; the directory is temporary
        }
    }
}
