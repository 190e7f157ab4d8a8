package dev.rimecast.alerts.people;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.EnumSet;
import org.junit.jupiter.api.Test;

class RoleBookTest {
    private final RoleBook book = RoleBook.standard();

    @Test
    void standard_everyRole_seesAndTheAdministratorMayAll() {
        for (Role role : Role.values()) {
            assertThat(book.of(role)).as(role.code()).contains(Permission.SEE_FLEET);
            assertThat(book.of(role).contains(Permission.SEE)).as(role.code()).isEqualTo(role.isForPeople());
        }
        assertThat(book.of(Role.ADMINISTRATOR)).isEqualTo(EnumSet.allOf(Permission.class));
        assertThat(book.of(Role.VIEWER)).containsExactlyInAnyOrder(Permission.SEE_FLEET, Permission.SEE);
        assertThat(book.of(Role.SCREEN)).containsExactly(Permission.SEE_FLEET);
        assertThat(book.covers(Role.OPERATOR, Role.ENGINEER)).isFalse();
        assertThat(book.covers(Role.MANAGER, Role.OPERATOR)).isTrue();
    }

    @Test
    void parse_aRoleOrAPermissionMissing_isRefused() {
        assertThatThrownBy(() -> RoleBook.parse("r", "viewer: [see]\n"))
                .hasMessageContaining("operator")
                .hasMessageContaining("manage-accounts");
        assertThatThrownBy(() -> RoleBook.parse("r", "viewer: [fly]\n")).hasMessageContaining("fly");
    }
}
