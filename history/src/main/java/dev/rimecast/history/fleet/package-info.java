/** The fleet itself: whether what machines are judged by still fits them, whether sensors age, whether a model group is another kind. */
@org.jspecify.annotations.NullMarked
package dev.rimecast.history.fleet;
