/** Whether a machine makes ice when it should: runs without result, rests too long, is never full, keeps being restarted. */
@NullMarked
package dev.rimecast.analytics.making;

import org.jspecify.annotations.NullMarked;
