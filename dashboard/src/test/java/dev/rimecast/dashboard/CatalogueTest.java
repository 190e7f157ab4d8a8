package dev.rimecast.dashboard;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Every sentence of the pages is in texts/ and words.js, where it can be read, checked and translated. */
class CatalogueTest {
    private static final Path WEB = Path.of("src/main/resources/dev/rimecast/dashboard/web");
    /** What a reader sees of a template: between tags, and in attributes that are read out. */
    private static final Pattern BETWEEN_TAGS = Pattern.compile("(?:^|>)([^<>]*)");

    private static final Pattern READ_OUT = Pattern.compile("(?:aria-label|title|placeholder|alt)=\"([^\"]*)\"");
    /** Symbols of units, and the name of the time scale, are the same in every language. */
    private static final Pattern BEHIND_VALUE =
            Pattern.compile("(?<!html)(`[^`<>\\n]*\\$\\{[^`\\n]*\\} (?!(?:UTC|kg|min|kWh)\\b)\\p{L}{2,}[^`\\n]*`)");

    /** One of two texts. */
    private static final Pattern CHOSEN = Pattern.compile("\\? ('[A-Z]\\p{L}[^']*') : ");

    private static final Pattern WORD = Pattern.compile("\\p{L}{2,}");

    @Test
    void templates_ofEveryPage_holdNoWordsOfTheirOwn() throws IOException {
        List<String> found = new ArrayList<>();
        try (Stream<Path> files = Files.list(WEB)) {
            for (Path file : files.filter(name ->
                            name.toString().endsWith(".js") && !name.endsWith("words.js") && !name.endsWith("texts.js"))
                    .toList()) {
                for (String template : templates(Files.readString(file))) {
                    words(template).forEach(word -> found.add(file.getFileName() + ": " + word));
                }
            }
        }

        assertThat(found).isEmpty();
    }

    /** Such as the unit behind a number, which is a word in some languages. */
    @Test
    void texts_outsideOfTemplates_holdNoWordsBehindAValue() throws IOException {
        List<String> found = new ArrayList<>();
        try (Stream<Path> files = Files.list(WEB)) {
            for (Path file : files.filter(name ->
                            name.toString().endsWith(".js") && !name.endsWith("words.js") && !name.endsWith("texts.js"))
                    .toList()) {
                wordsBehindValues(Files.readString(file)).forEach(word -> found.add(file.getFileName() + ": " + word));
            }
        }

        assertThat(found).isEmpty();
    }

    @Test
    void wordsBehindValues_areFound_andUnitsAreNone() {
        assertThat(wordsBehindValues("a = `${n} days`; b = `${n} kg`; c = html`<b>${n} of</b>`; d = over ? 'OK' : e;"))
                .containsExactly("`${n} days`", "'OK'");
    }

    private static List<String> wordsBehindValues(String code) {
        List<String> found = new ArrayList<>();
        for (Pattern pattern : List.of(BEHIND_VALUE, CHOSEN)) {
            Matcher text = pattern.matcher(code);
            while (text.find()) {
                found.add(text.group(1));
            }
        }
        return found;
    }

    @Test
    void templates_withWords_areFound() {
        String page =
                "html`<p title=\"Of it\">${a ? html`<b class=\"two words\">Stop</b>` : `not ${this}`} ${f({b: 1})}kg <i>${x}</i></p>`";

        assertThat(templates(page).stream().flatMap(template -> words(template).stream()))
                .containsExactlyInAnyOrder("Of it", "Stop", "kg");
    }

    private static List<String> words(String template) {
        List<String> words = new ArrayList<>();
        for (Pattern pattern : List.of(BETWEEN_TAGS, READ_OUT)) {
            Matcher text = pattern.matcher(template);
            while (text.find()) {
                if (WORD.matcher(text.group(1)).find()) {
                    words.add(text.group(1).strip());
                }
            }
        }
        return words;
    }

    /** The fixed parts of each html template, with a space for what is filled in; inner templates stand by themselves. */
    private static List<String> templates(String code) {
        List<String> templates = new ArrayList<>();
        int at = code.indexOf("html`");
        while (at >= 0) {
            templates.add(fixed(code, at + 5));
            at = code.indexOf("html`", at + 5);
        }
        return templates;
    }

    private static String fixed(String code, int from) {
        StringBuilder text = new StringBuilder();
        int at = from;
        while (code.charAt(at) != '`') {
            if (code.startsWith("${", at)) {
                at = behindExpression(code, at + 2);
                text.append(' ');
            } else {
                text.append(code.charAt(at++));
            }
        }
        return text.toString();
    }

    private static int behindExpression(String code, int from) {
        int at = from;
        int open = 1;
        while (open > 0) {
            char c = code.charAt(at++);
            if (c == '`') {
                while (code.charAt(at) != '`') {
                    at = code.startsWith("${", at) ? behindExpression(code, at + 2) : at + 1;
                }
                at++;
            } else if (c == '\'') {
                at = code.indexOf('\'', at) + 1;
            } else {
                open += c == '{' ? 1 : c == '}' ? -1 : 0;
            }
        }
        return at;
    }
}
