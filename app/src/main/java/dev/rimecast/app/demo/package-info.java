/** The demonstration: a simulated fleet that lives through its last weeks and then goes on in real time. */
@NullMarked
package dev.rimecast.app.demo;

import org.jspecify.annotations.NullMarked;
