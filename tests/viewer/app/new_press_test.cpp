#include "viewer/app/new_press.hpp"

#include "checks/check_list.hpp"
#include "scene/documents/documents.hpp"
#include "tests/scene/documents/temporary_folder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <limits>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("a new press from a few questions is read without a fault, and no check says no-go") {
    using Jacks = NewPressAnswers::Jacks;
    const NewPressAnswers rows[] = {
        {"Default", 1160, 300, 1060, 320, Jacks::screw, 2, 30'000},
        {"Small", 800, 240, 700, 300, Jacks::screw, 2, 20'000},
        {"Four", 1160, 400, 1060, 400, Jacks::screw, 4, 50'000},
        {"Hydraulic", 600, 200, 500, 250, Jacks::cylinder, 2, 30'000},
        {"Great", 900, 500, 850, 500, Jacks::cylinder, 4, 80'000},
        {"Toy", 400, 150, 340, 200, Jacks::screw, 2, 8'000},
        {"Inches", 1168.4, 304.8, 1066.8, 317.5, Jacks::screw, 2, 29'803},
        {"Long \"one\"", 2400, 600, 2300, 600, Jacks::screw, 4, 100'000},
    };
    for (const NewPressAnswers& answers : rows) {
        CAPTURE(answers.name);
        REQUIRE(faults_of(answers).empty());
        const TemporaryFolder folder;
        const auto written = write_new_press(answers, folder.path(), "shop");
        REQUIRE(std::holds_alternative<std::filesystem::path>(written));
        const Loaded<Setup> loaded = read_setup(std::get<std::filesystem::path>(written));
        for (const DocumentFault& fault : loaded.faults) {
            CHECK(fault.sentence() == "");
        }
        REQUIRE(loaded.value);
        CHECK(loaded.value->press->name == answers.name);
        const Assembly assembly = assemble(*loaded.value);
        CHECK(assembly.daylight_mm == doctest::Approx(answers.daylight_mm));
        Progress progress;
        CheckRequest request;
        request.jobs = 1;
        const CheckResults results = run_checks(*loaded.value, assembly, request, progress);
        for (const Finding& finding : results.findings) {
            CAPTURE(finding.check);
            CAPTURE(finding.title);
            CAPTURE(finding.remedy);
            CHECK(finding.verdict != Verdict::no_go);
        }
        // Never over what is there.
        CHECK(std::holds_alternative<std::string>(write_new_press(answers, folder.path(), "shop")));
    }
}

TEST_CASE("answers that make no press are told before anything is written") {
    const auto told = [](auto change) {
        NewPressAnswers answers;
        change(answers);
        const std::vector<std::string> faults = faults_of(answers);
        return faults.empty() ? std::string() : faults.front();
    };
    CHECK(told([](NewPressAnswers&) {}).empty());
    CHECK(told([](NewPressAnswers& a) { a.daylight_mm = 20; }) == "daylight of 20 mm: give 120 mm to 2000 mm");
    CHECK(told([](NewPressAnswers& a) { a.between_posts_mm = 1000; }) ==
          "the posts must stand 20 mm further apart than the platen is long: 1080 mm or more");
    CHECK(told([](NewPressAnswers& a) {
              a.daylight_mm = std::numeric_limits<double>::quiet_NaN();
          }).starts_with("daylight"));
    CHECK(told([](NewPressAnswers& a) { a.jack_load_N = -5; }).starts_with("a jack's load"));
    CHECK(told([](NewPressAnswers& a) { a.jack_load_N = 500'000; }).starts_with("jacks of 500 kN are too thick") ==
          false);
    CHECK(told([](NewPressAnswers& a) {
              a.platen_length_mm = 400;
              a.jack_load_N = 500'000;
          }).starts_with("jacks of 500 kN"));
    CHECK(told([](NewPressAnswers& a) { a.jack_count = 3; }) == "give two or four jacks");
    CHECK(told([](NewPressAnswers& a) { a.name = " "; }).starts_with("give the press a name"));
    const TemporaryFolder folder;
    CHECK(std::get<std::string>(write_new_press({}, folder.path() / "none", "x")).starts_with("there is no folder"));
    CHECK(std::get<std::string>(write_new_press({}, folder.path(), "")) == "give the files a name behind the folder");
    CHECK(std::filesystem::is_empty(folder.path()));
}
