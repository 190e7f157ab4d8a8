/** A policy that decides the sites' logs a second time, a few minutes behind, and notifies nobody. */
@NullMarked
package dev.rimecast.history.trial;

import org.jspecify.annotations.NullMarked;
