/** What every answer has in common: security headers, checks of origin, problems, entity tags, files of the pages. */
@NullMarked
package dev.rimecast.dashboard.http;

import org.jspecify.annotations.NullMarked;
