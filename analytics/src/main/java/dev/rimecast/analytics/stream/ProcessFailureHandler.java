package dev.rimecast.analytics.stream;

import java.util.List;
import java.util.Map;
import org.apache.kafka.streams.errors.ErrorHandlerContext;
import org.apache.kafka.streams.errors.ProcessingExceptionHandler;
import org.apache.kafka.streams.processor.api.Record;

/**
 * Puts a record aside that is unreadable or that a monitor could not take. Any other failure (the store, the network, a bug around the
 * monitors) ends the transaction instead: the record is not to blame, and going on might leave half of it behind.
 * Public because Kafka Streams makes it.
 */
public final class ProcessFailureHandler implements ProcessingExceptionHandler {
    private DeadLetterDesk desk = DeadLetterDesk.NONE;

    @Override
    public void configure(Map<String, ?> config) {
        desk = DeadLetterDesk.in(config);
    }

    @Override
    public Response handleError(ErrorHandlerContext context, Record<?, ?> failed, Exception error) {
        return error instanceof PoisonRecordException poison
                ? Response.resume(List.of(desk.putAside(context, poison)))
                : Response.fail();
    }
}
