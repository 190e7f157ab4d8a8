package dev.rimecast.telemetry.file.csv;

import java.io.Closeable;
import java.io.IOException;
import java.io.Reader;
import java.util.Arrays;
import java.util.Optional;

/**
 * Cuts RFC 4180 text into records and cells, without making an object for either. A record whose quotes are wrong has
 * a {@link #fault()}, and scanning goes on at the next line of the text, so that one stray quote costs one line and
 * not the rest of the file: which is why this is not left to a library. Lines end with LF, CRLF or CR; empty lines are
 * passed over. Not safe for use by several threads.
 */
public final class CsvScanner implements Closeable {
    /** A record that is longer has a quote that was never closed. */
    static final int LONGEST_RECORD = 1 << 16;

    private static final char BYTE_ORDER_MARK = '\uFEFF';

    private final Reader reader;
    private char[] chars = new char[4 * LONGEST_RECORD];
    private int filled;
    private boolean ended;

    private int recordStart;
    private int at;
    private long nextLine = 1;
    private long line;
    private int linesInRecord;

    private int[] cellStarts = new int[32];
    private int[] cellLengths = new int[32];
    private boolean[] cellHasPairs = new boolean[32];
    private int cells;
    private String fault = "";

    public CsvScanner(Reader reader) throws IOException {
        this.reader = reader;
        if (has(0) && chars[0] == BYTE_ORDER_MARK) {
            at = 1;
        }
    }

    /** Moves to the next record; false at the end. */
    public boolean next() throws IOException {
        do {
            recordStart = at;
            line = nextLine;
            cells = 0;
            linesInRecord = 0;
            fault = "";
            if (!has(at)) {
                return false;
            }
            scanRecord();
            nextLine += linesInRecord;
        } while (cells == 1 && cellLengths[0] == 0 && fault.isEmpty());
        return true;
    }

    /** Line on which the record starts, counted from 1. */
    public long line() {
        return line;
    }

    /** What is wrong with the record's quotes; then its cells mean nothing. */
    public Optional<String> fault() {
        return fault.isEmpty() ? Optional.empty() : Optional.of(fault);
    }

    /** How many cells the record has. */
    public int cells() {
        return cells;
    }

    /** Where the text of a cell starts in {@link #chars()}, until the next call of {@link #next()}. */
    public int start(int cell) {
        return recordStart + cellStarts[cell];
    }

    public int length(int cell) {
        return cellLengths[cell];
    }

    /** The buffer that holds the record's text; only to be read. */
    public char[] chars() {
        return chars;
    }

    public String cell(int cell) {
        return new String(chars, start(cell), length(cell));
    }

    /** Whether a cell is this text, without making one of it. */
    public boolean is(int cell, String text) {
        if (length(cell) != text.length()) {
            return false;
        }
        int start = start(cell);
        for (int i = 0; i < text.length(); i++) {
            if (chars[start + i] != text.charAt(i)) {
                return false;
            }
        }
        return true;
    }

    private void scanRecord() throws IOException {
        while (true) {
            boolean good = has(at) && chars[at] == '"' ? scanQuoted() : scanPlain();
            if (!good) {
                skipLine();
                return;
            }
            boolean last = !has(at);
            char end = last ? '\n' : chars[at++];
            if (end != ',') {
                endLine(end);
                undoublePairs();
                return;
            }
        }
    }

    private void endLine(char end) throws IOException {
        if (end == '\r' && has(at) && chars[at] == '\n') {
            at++;
        }
        linesInRecord++;
    }

    /** Stops on the comma or line end after the cell, or at the end of the text. */
    private boolean scanPlain() throws IOException {
        int start = at - recordStart;
        while (has(at)) {
            passOrdinary();
            if (at == filled) {
                continue; // more may come
            }
            char c = chars[at];
            if (c == ',' || c == '\n' || c == '\r') {
                break;
            }
            return c == '"'
                    ? wrong("a quote stands inside a cell that does not begin with one")
                    : wrong("is longer than " + LONGEST_RECORD + " characters");
        }
        addCell(start, at - recordStart - start, false);
        return true;
    }

    /** Moves on to what ends a cell or has no place in one, no further than the buffer and the longest record reach. */
    private void passOrdinary() {
        char[] text = chars;
        int end = Math.min(filled, recordStart + LONGEST_RECORD + 1);
        int next = at;
        while (next < end) {
            char c = text[next];
            if (c <= ',' && (c == ',' || c == '\n' || c == '\r' || c == '"')) {
                break;
            }
            next++;
        }
        at = next;
    }

    private boolean scanQuoted() throws IOException {
        int start = ++at - recordStart;
        boolean pairs = false;
        int breaks = 0;
        while (true) {
            if (!has(at) || at - recordStart > LONGEST_RECORD) {
                return wrong("a quote is not closed");
            }
            char c = chars[at++];
            if (c == '\n' || (c == '\r' && !(has(at) && chars[at] == '\n'))) {
                breaks++;
            } else if (c == '"') {
                if (!has(at) || chars[at] != '"') {
                    break;
                }
                pairs = true;
                at++;
            }
        }
        if (has(at) && chars[at] != ',' && chars[at] != '\n' && chars[at] != '\r') {
            return wrong("text stands after a closing quote");
        }
        linesInRecord += breaks;
        addCell(start, at - 1 - recordStart - start, pairs);
        return true;
    }

    /** Turns pairs of quotes into one, in place: only when the record is whole, since a faulty one is read again. */
    private void undoublePairs() {
        for (int cell = 0; cell < cells; cell++) {
            if (cellHasPairs[cell]) {
                int start = start(cell);
                int to = start;
                for (int from = start; from < start + cellLengths[cell]; from++) {
                    chars[to++] = chars[from];
                    if (chars[from] == '"') {
                        from++;
                    }
                }
                cellLengths[cell] = to - start;
            }
        }
    }

    private boolean wrong(String what) {
        fault = what;
        return false;
    }

    /** Back to the record's first line, and behind it. */
    private void skipLine() throws IOException {
        at = recordStart;
        linesInRecord = 0;
        while (has(at)) {
            char c = chars[at++];
            if (c == '\n' || c == '\r') {
                endLine(c);
                return;
            }
            if (at - recordStart > LONGEST_RECORD) {
                recordStart = at; // the cells of a faulty record are not looked at
            }
        }
        linesInRecord++;
    }

    private void addCell(int start, int length, boolean hasPairs) {
        if (cells == cellStarts.length) {
            cellStarts = Arrays.copyOf(cellStarts, 2 * cells);
            cellLengths = Arrays.copyOf(cellLengths, 2 * cells);
            cellHasPairs = Arrays.copyOf(cellHasPairs, 2 * cells);
        }
        cellStarts[cells] = start;
        cellHasPairs[cells] = hasPairs;
        cellLengths[cells++] = length;
    }

    private boolean has(int position) throws IOException {
        return position < filled || fill();
    }

    /** Reads on; what lies before the record makes room, so every position moves with it. False at the end. */
    private boolean fill() throws IOException {
        if (ended) {
            return false;
        }
        if (recordStart > 0) {
            System.arraycopy(chars, recordStart, chars, 0, filled - recordStart);
            filled -= recordStart;
            at -= recordStart;
            recordStart = 0;
        }
        int read = reader.read(chars, filled, chars.length - filled);
        ended = read < 0;
        filled += Math.max(read, 0);
        return read > 0;
    }

    @Override
    public void close() throws IOException {
        reader.close();
    }
}
