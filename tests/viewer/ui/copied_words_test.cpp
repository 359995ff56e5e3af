// What the clipboard is given.
#include "viewer/ui/copied_words.hpp"

#include "tests/viewer/app/small_press.hpp"
#include "viewer/app/apply.hpp"
#include "viewer/ui/words.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace evenclose;

namespace {

App checked_app() {
    App app;
    evenclose::apply(app, OpenSetup{"oak.setup.json"});
    evenclose::apply(app, SetupRead{app.generation, std::make_shared<const Setup>(), test::small_press(), {}});
    evenclose::apply(app, Checked{app.generation, test::small_results()});
    return app;
}

} // namespace

TEST_CASE("the chosen finding is copied with verdict, place and remedy, the table holds a line for each") {
    App app = checked_app();
    CHECK(chosen_finding_words(app).empty());
    evenclose::apply(app, ChooseFinding{0});
    const std::string words = chosen_finding_words(app);
    CHECK(words.starts_with("NO-GO  Platen and bolt foul\n"));
    CHECK(words.find("travel 70 – 110 mm") != std::string::npos);
    CHECK(words.find("Move the bolt out by 12 mm.") != std::string::npos);
    const std::string table = findings_table(app);
    CHECK(std::count(table.begin(), table.end(), '\n') == 4);
    CHECK(std::count(table.begin(), table.end(), '\t') == 4 * 7); // spreadsheets want the same columns in each
    CHECK(table.find("no-go\ttravel\tPlaten and bolt foul") != std::string::npos);
    CHECK(findings_table(App{}).empty());
    app.units = UnitSystem::inch;
    CHECK(chosen_finding_words(app).find(" in") != std::string::npos);
}

TEST_CASE("copying says what was copied, and where there is nothing what to do") {
    App app = checked_app();
    auto orders = evenclose::apply(app, Intent{CopyText{"", "the finding"}});
    CHECK(orders.empty());
    CHECK(app.copied.empty());
    CHECK(app.notice.find("choose a finding") != std::string::npos);
    orders = evenclose::apply(app, Intent{CopyText{"130.3 mm", "130.3 mm"}});
    REQUIRE(orders.size() == 1);
    CHECK(std::get<ToClipboard>(orders[0]).text == "130.3 mm");
    CHECK(app.copied == "130.3 mm");
}

TEST_CASE("words that are numbers can be copied by pointing at them") {
    for (const char* words : {"130.3 mm", "-22.2 %", "1060 mm × 320 mm", "~0.043 in", "at 130.3 mm", "0", "±0.8 mm"}) {
        CAPTURE(words);
        CHECK(is_number_words(words));
    }
    for (const char* words : {"–", "", "mm", "under 5 mm", "at all", "-", "marginal"}) {
        CAPTURE(words);
        CHECK(!is_number_words(words));
    }
}
