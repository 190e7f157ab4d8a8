/** What is probably wrong: residuals and their course against a matrix of faults and symptoms, in log-odds, with the evidence in words. */
@NullMarked
package dev.rimecast.analytics.diagnosis;

import org.jspecify.annotations.NullMarked;
