package dev.rimecast.telemetry.file.csv;

/**
 * One thing that is wrong in a file.
 *
 * @param line counted from 1; 0 for the file as a whole
 * @param column name of the column; empty for the line as a whole
 * @param what what is wrong and what to do about it
 */
public record InputProblem(String file, long line, String column, String what) {

    @Override
    public String toString() {
        String place = line > 0 ? file + ':' + line : file;
        return column.isEmpty() ? place + ": " + what : place + ": " + column + ": " + what;
    }
}
