package dev.rimecast.analytics.fleet;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Locale;

/**
 * A diagram as SVG: axes, lines, dots, bands and marks. The colours follow the reader's light or dark setting; series differ in
 * dashes or shape, too. The same calls give the same bytes.
 */
final class Plot {
    private static final int WIDTH = 760;
    private static final int HEIGHT = 340;
    private static final int LEFT = 70;
    private static final int RIGHT = 20;
    private static final int TOP = 66;
    private static final int BOTTOM = 48;
    private static final int CHARACTER = 7;

    private static final String STYLE = """
            <style>
            text{font:13px system-ui,'Segoe UI','DejaVu Sans',sans-serif;fill:#1f2328}
            .title{font-weight:600;font-size:15px}.back{fill:#fff}.grid{stroke:#d8dee4}.axis{stroke:#57606a}
            .a{stroke:#0b61a4;color:#0b61a4}.b{stroke:#b34700;color:#b34700}.c{stroke:#1a7f37;color:#1a7f37}
            .mark{stroke:#57606a;stroke-dasharray:2 3}.line{fill:none;stroke-width:2}.bar{stroke:none;fill:currentColor}.in{fill:#fff}.dots{fill:none;stroke-linecap:round}
            .band{stroke:none;fill:currentColor;opacity:.16}.shade{fill:#57606a;opacity:.12}
            .dash{stroke-dasharray:7 4}
            @media(prefers-color-scheme:dark){
            text{fill:#e6edf3}.in{fill:#0d1117}.back{fill:#0d1117}.grid{stroke:#30363d}.axis,.mark{stroke:#9198a1}.shade{fill:#9198a1}
            .a{stroke:#6cb6ff;color:#6cb6ff}.b{stroke:#ffab70;color:#ffab70}.c{stroke:#7ee787;color:#7ee787}}
            </style>
            """;

    private final StringBuilder behind = new StringBuilder();
    private final StringBuilder body = new StringBuilder();
    private final List<String> legend = new ArrayList<>();
    private final String title;
    private final String xLabel;
    private final String yLabel;
    private final double x0;
    private final double x1;
    private final double y0;
    private final double y1;
    private boolean isLog;
    private int legendAt = LEFT;
    private int marks;

    Plot(String title, String xLabel, String yLabel, double x0, double x1, double y0, double y1) {
        this.title = title;
        this.xLabel = xLabel;
        this.yLabel = yLabel;
        this.x0 = x0;
        this.x1 = x1;
        this.y0 = y0;
        this.y1 = y1;
    }

    /** The vertical axis is logarithmic, and everything on it is given as a decimal logarithm. */
    Plot logarithmic() {
        isLog = true;
        return this;
    }

    private double px(double x) {
        return LEFT + (Math.max(x0, Math.min(x1, x)) - x0) / (x1 - x0) * (WIDTH - LEFT - RIGHT);
    }

    private double py(double y) {
        return HEIGHT - BOTTOM - (Math.max(y0, Math.min(y1, y)) - y0) / (y1 - y0) * (HEIGHT - TOP - BOTTOM);
    }

    private static String number(double value) {
        return String.format(Locale.ROOT, "%.1f", value);
    }

    private String points(List<double[]> points, int column) {
        StringBuilder text = new StringBuilder();
        for (double[] point : points) {
            text.append(number(px(point[0])))
                    .append(',')
                    .append(number(py(point[column])))
                    .append(' ');
        }
        return text.toString();
    }

    /** @param series a, b or c, with " dash" behind it for a dashed line */
    Plot line(String series, String label, List<double[]> points) {
        body.append("<polyline class=\"line ")
                .append(series)
                .append("\" points=\"")
                .append(points(points, 1))
                .append("\"/>\n");
        return legend(label, "<line class=\"line " + series + "\" x1=\"0\" x2=\"22\" y1=\"-4\" y2=\"-4\"/>");
    }

    /** Dots as the round ends of lines without length, which takes the fewest bytes. */
    Plot dots(String series, String label, List<double[]> points, double radius) {
        String style = "class=\"dots " + series + "\" stroke-width=\"" + number(2 * radius) + "\"";
        body.append("<path ").append(style).append(" d=\"");
        for (double[] point : points) {
            body.append('M')
                    .append(number(px(point[0])))
                    .append(' ')
                    .append(number(py(point[1])))
                    .append("h0");
        }
        body.append("\"/>\n");
        return legend(label, "<path " + style + " d=\"M12 -4h0\"/>");
    }

    /** @param points x, low, high */
    Plot band(String series, String label, List<double[]> points) {
        List<double[]> back = new ArrayList<>(points);
        Collections.reverse(back);
        behind.append("<g class=\"")
                .append(series)
                .append("\"><polygon class=\"band\" points=\"")
                .append(points(points, 1))
                .append(points(back, 2))
                .append("\"/></g>\n");
        return legend(
                label,
                "<g class=\"" + series + "\"><rect class=\"band\" x=\"0\" y=\"-10\" width=\"22\" height=\"12\"/></g>");
    }

    /** A time from one x to another, with words at its top. */
    Plot shade(double from, double to, String label) {
        behind.append("<rect class=\"shade\" x=\"%s\" y=\"%d\" width=\"%s\" height=\"%d\"/>%n"
                .formatted(number(px(from)), TOP, number(px(to) - px(from)), HEIGHT - TOP - BOTTOM)
                .replace("\r", ""));
        text(body, px(from) + 4, TOP + 14, "", label);
        return this;
    }

    /** An upright line with words beside it; one below the other, so that neighbours don't overlap. */
    Plot mark(double x, String label) {
        body.append("<line class=\"mark\" x1=\"%1$s\" x2=\"%1$s\" y1=\"%2$d\" y2=\"%3$d\"/>"
                .formatted(number(px(x)), TOP, HEIGHT - BOTTOM));
        boolean isRight = px(x) + 6 + label.length() * CHARACTER > WIDTH - RIGHT;
        text(
                body,
                px(x) + (isRight ? -5 : 5),
                TOP + 14 + 17 * (marks++ % 4),
                isRight ? "text-anchor=\"end\"" : "",
                label);
        return this;
    }

    /** A level line with words above its right end. */
    Plot level(double y, String label) {
        body.append("<line class=\"mark\" x1=\"%d\" x2=\"%d\" y1=\"%3$s\" y2=\"%3$s\"/>"
                .formatted(LEFT, WIDTH - RIGHT, number(py(y))));
        text(body, WIDTH - RIGHT - 4, py(y) - 5, "text-anchor=\"end\"", label);
        return this;
    }

    /** A bar from the left with words in front, in one of so many rows. */
    Plot bar(String series, int row, int rows, double value, String label) {
        double height = (HEIGHT - TOP - BOTTOM) / (double) rows;
        double y = TOP + row * height;
        body.append("<g class=\"%s\"><rect class=\"bar\" x=\"%d\" y=\"%s\" width=\"%s\" height=\"%s\"/></g>"
                .formatted(series, LEFT, number(y + 3), number(px(value) - LEFT), number(height - 6)));
        boolean fits = px(value) - LEFT > 16 + label.length() * CHARACTER;
        text(body, fits ? LEFT + 8 : px(value) + 6, y + height / 2 + 5, fits ? "class=\"in\"" : "", label);
        return this;
    }

    private Plot legend(String label, String sign) {
        if (!label.isEmpty()) {
            legend.add("<g transform=\"translate(" + legendAt + ",50)\">" + sign + "<text x=\"28\">" + escaped(label)
                    + "</text></g>\n");
            legendAt += 28 + 20 + label.length() * CHARACTER;
        }
        return this;
    }

    private static void text(StringBuilder out, double x, double y, String more, String text) {
        out.append("<text x=\"%s\" y=\"%s\" %s>%s</text>%n"
                .formatted(number(x), number(y), more, escaped(text))
                .replace("\r", ""));
    }

    private static String escaped(String text) {
        return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;");
    }

    String toSvg() {
        StringBuilder out = new StringBuilder();
        out.append("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\" role=\"img\">%n"
                .formatted(WIDTH, HEIGHT)
                .replace("\r", ""));
        out.append("<title>").append(escaped(title)).append("</title>\n").append(STYLE);
        out.append("<rect class=\"back\" width=\"" + WIDTH + "\" height=\"" + HEIGHT + "\"/>\n");
        text(out, LEFT, 26, "class=\"title\"", title);
        out.append(behind);
        axes(out);
        legend.forEach(out::append);
        return out.append(body).append("</svg>\n").toString();
    }

    private void axes(StringBuilder out) {
        double yStep = isLog ? 1 : step(y1 - y0);
        for (double y = Math.ceil(y0 / yStep) * yStep; !yLabel.isEmpty() && y <= y1 + 1e-9; y += yStep) {
            out.append("<line class=\"grid\" x1=\"%d\" x2=\"%d\" y1=\"%3$s\" y2=\"%3$s\"/>"
                    .formatted(LEFT, WIDTH - RIGHT, number(py(y))));
            text(out, LEFT - 8, py(y) + 4, "text-anchor=\"end\"", tick(isLog ? Math.pow(10, y) : y));
        }
        double xStep = step(x1 - x0);
        for (double x = Math.ceil(x0 / xStep) * xStep; x <= x1 + 1e-9; x += xStep) {
            out.append("<line class=\"grid\" x1=\"%1$s\" x2=\"%1$s\" y1=\"%2$d\" y2=\"%3$d\"/>"
                    .formatted(number(px(x)), TOP, HEIGHT - BOTTOM));
            text(out, px(x), HEIGHT - BOTTOM + 18, "text-anchor=\"middle\"", tick(x));
        }
        out.append("<line class=\"axis\" x1=\"%d\" x2=\"%d\" y1=\"%3$d\" y2=\"%3$d\"/>"
                .formatted(LEFT, WIDTH - RIGHT, HEIGHT - BOTTOM));
        text(out, (LEFT + WIDTH - RIGHT) / 2.0, HEIGHT - 10, "text-anchor=\"middle\"", xLabel);
        if (!yLabel.isEmpty()) {
            text(
                    out,
                    0,
                    0,
                    "text-anchor=\"middle\" transform=\"translate(14," + (TOP + HEIGHT - BOTTOM) / 2
                            + ") rotate(-90)\"",
                    yLabel);
        }
    }

    private static double step(double span) {
        double power = Math.pow(10, Math.floor(Math.log10(span / 5)));
        double of = span / 5 / power;
        return power * (of < 1.5 ? 1 : of < 3.5 ? 2 : of < 7.5 ? 5 : 10);
    }

    private static String tick(double value) {
        double rounded = Math.round(value * 1000) / 1000.0;
        return rounded == Math.rint(rounded) ? Long.toString((long) rounded) : Double.toString(rounded);
    }
}
