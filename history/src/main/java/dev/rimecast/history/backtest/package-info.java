/** The past decided anew with other numbers, and held against what people and the record say was right. */
@NullMarked
package dev.rimecast.history.backtest;

import org.jspecify.annotations.NullMarked;
