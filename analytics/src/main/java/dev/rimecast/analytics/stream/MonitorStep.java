package dev.rimecast.analytics.stream;

import dev.rimecast.analytics.monitor.SiteMonitor;
import dev.rimecast.telemetry.log.SiteRecord;

/** One record into one monitor. In the product {@link SiteMonitor#accept}; a test can let it fail half way. */
interface MonitorStep {
    void apply(SiteMonitor monitor, SiteRecord entry, SiteMonitor.Output out);
}
