package dev.rimecast.alerts.notice.text;

import dev.rimecast.alerts.notice.text.Content.Line;
import dev.rimecast.alerts.notice.text.Content.Section;

/** A content as plain text and as HTML that needs nothing from elsewhere: no script, no picture, no style sheet. */
public final class Rendering {
    private Rendering() {}

    public static String plain(Content content) {
        StringBuilder text = new StringBuilder();
        text.append(content.lead()).append("\n");
        for (Section section : content.sections()) {
            text.append('\n');
            if (!section.title().isEmpty()) {
                text.append(section.title()).append('\n');
            }
            for (Line line : section.lines()) {
                text.append(line.label().isEmpty() ? "  - " : line.label() + ": ")
                        .append(line.text())
                        .append('\n');
            }
        }
        return text.append('\n').append(content.link()).append('\n').toString();
    }

    public static String html(Content content) {
        StringBuilder html =
                new StringBuilder("<!doctype html><html lang=\"en\"><head><meta charset=\"utf-8\"><title>");
        html.append(escape(content.subject()))
                .append("</title></head><body style=\"font-family: sans-serif; line-height: 1.4\"><p>")
                .append(escape(content.lead()))
                .append("</p>");
        for (Section section : content.sections()) {
            if (!section.title().isEmpty()) {
                html.append("<h2 style=\"font-size: 1.1em\">")
                        .append(escape(section.title()))
                        .append("</h2>");
            }
            append(html, section);
        }
        String link = escape(content.link());
        return html.append("<p><a href=\"")
                .append(link)
                .append("\">")
                .append(link)
                .append("</a></p></body></html>")
                .toString();
    }

    private static void append(StringBuilder html, Section section) {
        boolean isList = section.lines().stream().allMatch(line -> line.label().isEmpty());
        html.append(isList ? "<ul>" : "<table>");
        for (Line line : section.lines()) {
            if (isList) {
                html.append("<li>").append(escape(line.text())).append("</li>");
            } else {
                html.append(
                                "<tr><th scope=\"row\" style=\"text-align: left; vertical-align: top; padding-right: 1em\">")
                        .append(escape(line.label()))
                        .append("</th><td>")
                        .append(escape(line.text()))
                        .append("</td></tr>");
            }
        }
        html.append(isList ? "</ul>" : "</table>");
    }

    private static String escape(String text) {
        return text.replace("&", "&amp;")
                .replace("<", "&lt;")
                .replace(">", "&gt;")
                .replace("\"", "&quot;")
                .replace("'", "&#39;");
    }
}
