// The guide inside the window: its page is taken apart rightly, and tells of no key that is not there.
#include "viewer/app/guide.hpp"

#include "tests/file_bytes.hpp"
#include "tests/places.hpp"
#include "viewer/app/apply.hpp"
#include "viewer/ui/commands.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <regex>

using namespace evenclose;

using Kind = GuideBlock::Kind;

TEST_CASE("headings, paragraphs, lists and code of a page, pictures are left out") {
    const auto chapters =
        chapters_of("# Title\nnot told\n\n## One\n\nTwo lines\nof **one** `word`.\n![a picture](a.png)\n\n"
                    "- first\n  goes on\n- second\n\n    code  here\n    and here\n\nlast\n"
                    "## Two\n```json\n{ \"a\": 1,\n\n  \"b\": 2 }\n```\nend\r\n");
    REQUIRE(chapters.size() == 2);
    CHECK(chapters[0].title == "One");
    const auto& blocks = chapters[0].blocks;
    REQUIRE(blocks.size() == 5);
    CHECK(blocks[0].words == "Two lines of one word.");
    CHECK(blocks[1].kind == Kind::item);
    CHECK(blocks[1].words == "first goes on");
    CHECK(blocks[2].words == "second");
    CHECK(blocks[3].kind == Kind::code);
    CHECK(blocks[3].words == "    code  here\n    and here");
    CHECK(blocks[4].words == "last");
    REQUIRE(chapters[1].blocks.size() == 2);
    CHECK(chapters[1].blocks[0].words == "{ \"a\": 1,\n\n  \"b\": 2 }");
    CHECK(chapters[1].blocks[1].words == "end");
    CHECK(chapters_of("").empty());
    CHECK(chapters_of("## ").size() <= 1);
}

TEST_CASE("the guide is the file of assets, whole, and names only keys that the window has") {
    const std::string text = test::bytes_of(test::source_folder() + "/assets/guide/window.md");
    REQUIRE(!text.empty());
    CHECK(guide_text() == text);
    CHECK(guide_chapters().size() >= 5);
    for (const GuideChapter& chapter : guide_chapters()) {
        CHECK(!chapter.title.empty());
        CHECK(!chapter.blocks.empty());
    }
    const std::regex named("`((?:Ctrl |Shift )*(?:[A-Z?]|F1|Space))`");
    const auto commands = found_commands("");
    int count = 0;
    for (std::sregex_iterator at(text.begin(), text.end(), named), end; at != end; ++at, ++count) {
        const std::string keys = (*at)[1];
        CAPTURE(keys);
        CHECK(std::any_of(commands.begin(), commands.end(),
                          [&](const Command* command) { return key_words(*command) == keys; }));
    }
    CHECK(count >= 8);
}

TEST_CASE("pages turn and stop at the ends") {
    App app;
    evenclose::apply(app, Intent{TurnGuide{-1}});
    CHECK(app.guide_chapter == 0);
    evenclose::apply(app, Intent{TurnGuide{1}});
    CHECK(app.guide_chapter == 1);
    evenclose::apply(app, Intent{TurnGuide{0, 3}});
    CHECK(app.guide_chapter == 3);
    evenclose::apply(app, Intent{TurnGuide{1000}});
    CHECK(app.guide_chapter + 1 == guide_chapters().size());
}
