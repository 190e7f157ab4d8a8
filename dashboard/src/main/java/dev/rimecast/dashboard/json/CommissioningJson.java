package dev.rimecast.dashboard.json;

import dev.rimecast.alerts.acceptance.AcceptanceView;
import dev.rimecast.alerts.advice.Checklist;
import dev.rimecast.alerts.work.Commissioned;
import dev.rimecast.alerts.work.Commissioned.Stored;
import java.time.Instant;
import java.util.List;
import java.util.UUID;

/**
 * What is looked at when a machine is put up, and what was found.
 *
 * @param acceptances how it did in its first cycles, newest first
 * @param records newest first
 */
public record CommissioningJson(ChecklistJson checklist, List<AcceptanceJson> acceptances, List<RecordJson> records) {
    public CommissioningJson {
        acceptances = List.copyOf(acceptances);
        records = List.copyOf(records);
    }

    /** @param deferTo rules and books that go before it */
    public record ChecklistJson(List<SectionJson> sections, List<String> cautions, List<String> deferTo) {
        public ChecklistJson {
            sections = List.copyOf(sections);
            cautions = List.copyOf(cautions);
            deferTo = List.copyOf(deferTo);
        }
    }

    /** @param isolated whether covers are off, and the power is isolated */
    public record SectionJson(String id, String title, boolean isolated, List<String> cautions, List<ItemJson> items) {
        public SectionJson {
            cautions = List.copyOf(cautions);
            items = List.copyOf(items);
        }
    }

    public record ItemJson(String id, String check, String expect) {}

    /** @param good whether nothing was found that is not ok */
    public record RecordJson(
            UUID id,
            Instant time,
            String site,
            String machine,
            boolean good,
            List<AnswerJson> answers,
            String note,
            String by,
            String job,
            String enteredBy,
            Instant enteredAt) {
        public RecordJson {
            answers = List.copyOf(answers);
        }
    }

    /** @param check words of the item as they were then */
    public record AnswerJson(String item, String check, String result, String note) {}

    /** @param added false where it had been stored before, and nothing was added */
    public record ReportedJson(boolean added, RecordJson record) {}

    public static CommissioningJson of(Checklist list, List<AcceptanceView> acceptances, List<Stored> records) {
        List<SectionJson> sections = list.sections().stream()
                .map(section -> new SectionJson(
                        section.id(),
                        section.title(),
                        section.isolated(),
                        section.cautions(),
                        section.items().stream()
                                .map(item -> new ItemJson(item.id(), item.check(), item.expect()))
                                .toList()))
                .toList();
        return new CommissioningJson(
                new ChecklistJson(sections, list.cautions(), list.deferTo()),
                acceptances.stream().map(AcceptanceJson::of).toList(),
                records.stream().map(CommissioningJson::record).toList());
    }

    public static RecordJson record(Stored stored) {
        Commissioned record = stored.record();
        return new RecordJson(
                record.id(),
                record.at(),
                stored.site(),
                stored.machine(),
                stored.isGood(),
                record.answers().stream()
                        .map(answer -> new AnswerJson(
                                answer.item(), answer.check(), answer.result().code(), answer.note()))
                        .toList(),
                record.note(),
                record.by(),
                record.job(),
                stored.enteredBy(),
                stored.enteredAt());
    }
}
