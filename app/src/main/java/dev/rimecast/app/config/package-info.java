/** The configuration file: one YAML, every key with unit, default and environment variable. */
@NullMarked
package dev.rimecast.app.config;

import org.jspecify.annotations.NullMarked;
