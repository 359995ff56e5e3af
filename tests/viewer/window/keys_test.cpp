#include "viewer/ui/keys.hpp"

#include "tests/viewer/app/small_press.hpp"
#include "tests/within.hpp"
#include "viewer/app/apply.hpp"

#include <doctest/doctest.h>

#include <GLFW/glfw3.h>

using namespace evenclose;

namespace {

template <class T> T meant(const std::optional<Intent>& intent) {
    REQUIRE(intent);
    REQUIRE(std::holds_alternative<T>(*intent));
    return std::get<T>(*intent);
}

} // namespace

TEST_CASE("arrow keys move by what a shop counts in, finer with Shift") {
    App app;
    CHECK(meant<MoveTravel>(intent_of_key(app, GLFW_KEY_UP, 0)).by.mm == 1.0);
    CHECK(meant<MoveTravel>(intent_of_key(app, GLFW_KEY_DOWN, GLFW_MOD_SHIFT)).by.mm == -0.1);
    CHECK(meant<MoveTravel>(intent_of_key(app, GLFW_KEY_PAGE_UP, 0)).by.mm == 10.0);
    app.units = UnitSystem::inch;
    CHECK(test::near(meant<MoveTravel>(intent_of_key(app, GLFW_KEY_UP, 0)).by.mm, 1.5875, 1e-12));
    CHECK(test::near(meant<MoveTravel>(intent_of_key(app, GLFW_KEY_DOWN, GLFW_MOD_SHIFT)).by.mm, -0.396875, 1e-12));
}

TEST_CASE("Esc closes a sheet first and lets go of the choice then, Space turns playing over, Ctrl O and Ctrl Q") {
    App app;
    CHECK(std::holds_alternative<ClearChoice>(*intent_of_key(app, GLFW_KEY_ESCAPE, 0)));
    app.sheet = Sheet::keys;
    CHECK(meant<ShowSheet>(intent_of_key(app, GLFW_KEY_ESCAPE, 0)).sheet == Sheet::none);
    CHECK(meant<Play>(intent_of_key(app, GLFW_KEY_SPACE, 0)).on);
    app.playing.on = true;
    CHECK(!meant<Play>(intent_of_key(app, GLFW_KEY_SPACE, 0)).on);
    const auto open = meant<FileQuestionIntent>(intent_of_key(app, GLFW_KEY_O, GLFW_MOD_CONTROL));
    CHECK(std::get<AskForFile>(open).question == FileQuestion::open);
    CHECK(intent_of_key(app, GLFW_KEY_Q, GLFW_MOD_CONTROL));
    CHECK(!intent_of_key(app, GLFW_KEY_SPACE, GLFW_MOD_CONTROL));
    CHECK(!intent_of_key(app, GLFW_KEY_1, GLFW_MOD_ALT));
    CHECK(!intent_of_key(app, GLFW_KEY_F5, 0));
}

TEST_CASE("digits are views, from either block of keys, letters come as characters, large or small") {
    App app;
    CHECK(meant<SetView>(intent_of_key(app, GLFW_KEY_1, 0)).name == "corner");
    CHECK(meant<SetView>(intent_of_key(app, GLFW_KEY_KP_7, 0)).name == "mold");
    CHECK(!intent_of_key(app, GLFW_KEY_9, 0));
    CHECK(meant<SetUnits>(intent_of_character(app, U'u')).units == UnitSystem::inch);
    CHECK(meant<SetUnits>(intent_of_character(app, U'U')).units == UnitSystem::inch);
    CHECK(meant<ChooseStep>(intent_of_character(app, U'n')).by == 1);
    CHECK(meant<ChooseStep>(intent_of_character(app, U'P')).by == -1);
    CHECK(meant<ShowSheet>(intent_of_character(app, U'?')).sheet == Sheet::keys);
    CHECK(!intent_of_character(app, U'é'));
    for (const double times : {10.0, 50.0, 100.0, 1.0, 10.0}) {
        const auto next = meant<SetTiltMagnified>(intent_of_character(app, U't'));
        CHECK(next.times == times);
        apply(app, next);
    }
}
