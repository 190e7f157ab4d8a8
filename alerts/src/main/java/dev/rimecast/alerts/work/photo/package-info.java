/** Photos of work: a JPEG is looked through, and nothing but its picture is kept. Pure. */
@NullMarked
package dev.rimecast.alerts.work.photo;

import org.jspecify.annotations.NullMarked;
