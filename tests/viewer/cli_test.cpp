#include "tests/places.hpp"
#include "tests/viewer/ran.hpp"
#include "tests/viewer/readme_documents.hpp"

#include <doctest/doctest.h>
#include <nlohmann/json.hpp>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validator.hpp>

#include <cmath>
#include <filesystem>
#include <string>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

using Run = test::Ran;
using test::bytes_of;
using test::demo;
using test::lines_of;
using test::ReadmeDocuments;

Run evenclose(const std::vector<std::string>& words) { return test::ran(words); }

/// Held against a schema of ours, and those that it refers to.
bool keeps_schema(const nlohmann::json& json, const std::string& name) {
    const auto stored = [](const std::string& of) {
        return nlohmann::json::parse(bytes_of(fs::path(test::source_folder()) / "assets/schemas" / of));
    };
    const nlohmann::json schema_json = stored(name);
    const auto fetch = [&](const std::string& uri) {
        return new nlohmann::json(stored(uri.substr(uri.rfind('/') + 1)));
    };
    valijson::Schema schema;
    valijson::SchemaParser().populateSchema(valijson::adapters::NlohmannJsonAdapter(schema_json), schema, fetch,
                                            [](const nlohmann::json* fetched) { delete fetched; });
    return valijson::Validator().validate(schema, valijson::adapters::NlohmannJsonAdapter(json), nullptr);
}

} // namespace

TEST_CASE("cli: the README's box on a post is read and checked") {
    const ReadmeDocuments box("readme");
    const Run run = evenclose({"check", box.path("box.set-up.json")});
    CAPTURE(run.out);
    CAPTURE(run.err);
    CHECK(run.exit == 0);
    CHECK(run.out.find("A flat board in the box press") == 0);
    CHECK(run.out.find("Hands out before it moves.") != std::string::npos);
    CHECK(run.err.empty());
}

TEST_CASE("cli: an unknown key and a negative thickness are both told in one run, exit 2") {
    const ReadmeDocuments box("faults");
    box.replace("box.press.json", "\"underside\"", "\"undreside\"");
    box.replace("box.mold.json", "\"thickness\": 1.5", "\"thickness\": -1.5");
    const Run run = evenclose({"check", box.path("box.set-up.json")});
    CAPTURE(run.err);
    CHECK(run.exit == 2);
    CHECK(run.out.empty());
    CHECK(run.err.find("undreside") != std::string::npos);
    CHECK(run.err.find("underside") != std::string::npos); // the nearest right word
    CHECK(run.err.find("-1.5") != std::string::npos);
    CHECK(run.err.find("stack.plies[0].thickness") != std::string::npos);
}

TEST_CASE("cli: wrong words are one clear line and exit 64") {
    const ReadmeDocuments box("words");
    const std::string setup = box.path("box.set-up.json");
    const std::vector<std::vector<std::string>> wrong{
        {"check"},
        {"check", setup, "--jsno"},
        {"check", setup, "--only", "trvael"},
        {"check", setup, "--jobs", "-1"},
        {"picture", setup},
        {"picture", setup, "-o", box.path("x.png"), "--size", "huge"},
        {"picture", setup, "-o", box.path("x.png"), "--view", "conrer"},
        {"picture", setup, "-o", box.path("x.png"), "--travel", "12 elephants"},
        {"picture", setup, "-o", box.path("x.png"), "--travel", "900"},
        {"picture", setup, "-o", box.path("x.png"), "--section", "w=3"},
        {"picture", setup, "-o", box.path("x.png"), "--flip"},
        {"picture", setup, "-o", box.path("x.png"), "--turntable", "4"},
        {"picture", setup, "-o", box.path("x.webp"), "--turntable", "4", "--stroke", "3"},
        {"picture", setup, "-o", box.path("x.webp"), "--stroke", "3", "--travel", "closed"},
        {"picture", setup, "-o", box.path("x.png"), "--hide", "plateau"},
        {"mesh"},
        {"chek", setup},
    };
    for (const std::vector<std::string>& words : wrong) {
        CAPTURE(words.back());
        const Run run = evenclose(words);
        CAPTURE(run.err);
        CHECK(run.exit == 64);
        CHECK(lines_of(run.err) == 1);
        CHECK(run.out.empty());
    }
    CHECK(evenclose({"check", setup, "--only", "trvael"}).err.find("did you mean travel?") != std::string::npos);
    CHECK(evenclose({"picture", setup, "-o", "x.png", "--view", "conrer"}).err.find("corner") != std::string::npos);
    CHECK(evenclose({"chek"}).err.find("did you mean check?") != std::string::npos);
}

TEST_CASE("cli: a file that is not there is one line and exit 2") {
    for (const std::vector<std::string>& words : {std::vector<std::string>{"check", "nowhere/at-all.json"},
                                                  {"nowhere/at-all.json"},
                                                  {"mesh", "nowhere/at-all.stl"}}) {
        const Run run = evenclose(words);
        CAPTURE(run.err);
        CHECK(run.exit == 2);
        CHECK(lines_of(run.err) == 1);
        CHECK(run.err.find("nowhere/at-all") != std::string::npos);
    }
}

TEST_CASE("cli: help and version go to standard output, exit 0") {
    const Run help = evenclose({"--help"});
    CHECK(help.exit == 0);
    for (const char* command : {"check", "picture", "mesh"}) {
        CHECK(help.out.find(command) != std::string::npos);
    }
    CHECK(evenclose({"--version"}).out.starts_with("evenclose "));
}

TEST_CASE("cli: the good demo goes, exit 0") {
    const Run run = evenclose({"check", demo("crescent.set-up.json")});
    CAPTURE(run.out);
    CAPTURE(run.err);
    CHECK(run.exit == 0);
}

TEST_CASE("cli: the demo with three openings goes, exit 0, and says which opening is meant, JSON keeps its schema") {
    const Run run = evenclose({"check", demo("crescent-stack.set-up.json"), "--json"});
    CAPTURE(run.err);
    CHECK(run.exit == 0);
    const nlohmann::json json = nlohmann::json::parse(run.out);
    CHECK(keeps_schema(json, "findings.schema.json"));
    CHECK(json["setup"]["molds"].size() == 3);
    bool order = false;
    bool all_three = false;
    for (const nlohmann::json& finding : json["findings"]) {
        order = order || (finding["check"] == "stack" &&
                          finding["title"].get<std::string>().find("3 openings close from below") != std::string::npos);
        all_three = all_three || (finding["check"] == "cavity" && finding.contains("openings") &&
                                  finding["openings"] == nlohmann::json({1, 2, 3}));
    }
    CHECK(order);
    CHECK(all_three);
    const std::string picture = (fs::temp_directory_path() / "evenclose-stack-opening.png").string();
    CHECK(evenclose({"picture", demo("crescent-stack.set-up.json"), "-o", picture, "--cut", "--opening", "4"}).exit ==
          64);
}

TEST_CASE(
    "cli: the fouling demo names both faults with travel interval and millimetres, exit 1, JSON keeps its schema") {
    const Run run = evenclose({"check", demo("curlew.set-up.json"), "--json"});
    CAPTURE(run.err);
    REQUIRE(run.exit == 1);
    const nlohmann::json json = nlohmann::json::parse(run.out);

    CHECK(keeps_schema(json, "findings.schema.json"));

    bool bolt = false;
    bool daylight = false;
    for (const nlohmann::json& finding : json["findings"]) {
        if (finding["verdict"] != "no-go") {
            continue;
        }
        const auto& bodies = finding["bodies"];
        if (finding["check"] == "travel" && std::find(bodies.begin(), bodies.end(), "lamp bolt") != bodies.end()) {
            bolt = true;
            const double from = finding["travel_mm"][0];
            const double to = finding["travel_mm"][1];
            CHECK(to > from);
            CHECK(finding["title"].get<std::string>().find("mm") != std::string::npos);
            CHECK(finding["remedy"].get<std::string>().find("mm") != std::string::npos);
        }
        if (finding["check"] == "daylight") {
            daylight = true;
            CHECK(finding["value"].get<double>() < 0);
            CHECK(finding["title"].get<std::string>().find("too tall") != std::string::npos);
        }
    }
    CHECK(bolt);
    CHECK(daylight);
}

TEST_CASE(
    "cli: the scissor demo with its link shaft goes and its tilt is bounded, without the shaft it grows into no-go") {
    const auto levels_of = [](const std::string& setup, int exit) {
        const Run run = evenclose({"check", demo(setup), "--only", "level", "--json"});
        CAPTURE(run.err);
        CHECK(run.exit == exit);
        nlohmann::json json = nlohmann::json::parse(run.out);
        CHECK(keeps_schema(json, "findings.schema.json"));
        return json;
    };
    const nlohmann::json with = levels_of("crescent-scissor.set-up.json", 0);
    CHECK(with["verdict"] == "go");
    REQUIRE(with["level_curves"].size() == 2);
    const nlohmann::json& unlinked = with["level_curves"][0];
    const nlohmann::json& linked = with["level_curves"][1];
    CHECK(linked["source"] == "linked");
    CHECK(linked["counts"] == true);
    double before = -1;
    double highest = 0;
    for (std::size_t i = 0; i < linked["points"].size(); ++i) {
        const double grown = unlinked["points"][i]["over_deck_mm"][2];
        const double held = linked["points"][i]["over_deck_mm"][2];
        CHECK(grown > before);
        CHECK(held <= 1.001 * grown); // at first the shaft's play is not used up: both are the drives' own
        before = grown;
        highest = std::max(highest, held);
    }
    CHECK(highest < 0.25); // nowhere more, and falling towards closed
    CHECK(before > 5);

    const nlohmann::json without = levels_of("crescent-scissor-no-shaft.set-up.json", 1);
    CHECK(without["verdict"] == "no-go");
    REQUIRE(without["level_curves"].size() == 1);
    CHECK(without["level_curves"][0]["points"].back()["over_deck_mm"][2].get<double>() == doctest::Approx(before));
}

TEST_CASE("cli: a mold too wide between the posts fails load-in, with the posts named and the millimetres missing") {
    const ReadmeDocuments box("wide");
    box.replace(
        "box.press.json", "\"members\": [",
        "\"load_from\": \"front\", \"members\": [ { \"name\": \"left post\", \"from\": [-400, 0, 0], \"to\": [-400, 0, "
        "700], \"section\": { \"timber\": [60, 60] }, \"material\": \"pine\" },");
    for (int half = 0; half < 2; ++half) { // 740 from post to post
        box.replace("box.mold.json", "\"block\": [500,", "\"block\": [752,");
    }
    const Run run = evenclose({"check", box.path("box.set-up.json"), "--only", "load-in", "--json"});
    CAPTURE(run.out);
    CAPTURE(run.err);
    REQUIRE(run.exit == 1);
    const nlohmann::json json = nlohmann::json::parse(run.out);
    REQUIRE(json["findings"].size() == 1);
    const nlohmann::json& finding = json["findings"][0];
    CHECK(finding["verdict"] == "no-go");
    const auto& bodies = finding["bodies"];
    for (const char* post : {"left post", "post"}) {
        CAPTURE(post);
        CHECK(std::find(bodies.begin(), bodies.end(), post) != bodies.end());
    }
    CHECK(finding["title"].get<std::string>().find("too wide to pass between") != std::string::npos);
    CHECK(std::abs(finding["margin"].get<double>() + 12) < 0.2);
    box.replace("box.mold.json", "\"block\": [752,", "\"block\": [720,");
    box.replace("box.mold.json", "\"block\": [752,", "\"block\": [720,");
    CHECK(evenclose({"check", box.path("box.set-up.json"), "--only", "load-in"}).exit == 0);
}

TEST_CASE("cli: mesh --json keeps its schema, also for what cannot be read") {
    const Run run = evenclose({"mesh", demo("meshes/crescent-lower.stl"), "nowhere/at-all.stl", "--json"});
    CHECK(run.exit == 2);
    const nlohmann::json json = nlohmann::json::parse(run.out);
    CHECK(keeps_schema(json, "meshes.schema.json"));
    REQUIRE(json["meshes"].size() == 2);
    CHECK(json["meshes"][0]["volume_mm3"].get<double>() > 1e6);
    CHECK(json["meshes"][0]["fault"].is_null());
    CHECK(json["meshes"][1]["fault"].get<std::string>().find("no such file") != std::string::npos);
}

TEST_CASE("cli: the answer does not depend on the number of threads") {
    const std::string setup = demo("curlew.set-up.json");
    const Run one = evenclose({"check", setup, "--json", "--jobs", "1"});
    CHECK(evenclose({"check", setup, "--json", "--jobs", "2"}).out == one.out);
    CHECK(evenclose({"check", setup, "--json", "--jobs", "7"}).out == one.out);
}

TEST_CASE("cli: --only runs what is asked for, --inch shows fractions") {
    const ReadmeDocuments box("only");
    const Run run = evenclose({"check", box.path("box.set-up.json"), "--only", "stroke,daylight", "--json"});
    REQUIRE(run.exit == 0);
    const nlohmann::json json = nlohmann::json::parse(run.out);
    for (const nlohmann::json& finding : json["findings"]) {
        CHECK((finding["check"] == "stroke" || finding["check"] == "daylight"));
    }
    CHECK(json["findings"].size() >= 2);
    const Run inch = evenclose({"check", box.path("box.set-up.json"), "--only", "stroke", "--inch"});
    CHECK(inch.out.find(" in of ") != std::string::npos);
    CHECK(inch.out.find(" mm") == std::string::npos);
}

TEST_CASE("cli: --force asks what another force would do, and tells what is no force") {
    const auto strength_with = [](const std::string& force) {
        const Run run =
            evenclose({"check", demo("crescent.set-up.json"), "--only", "frame", "--json", "--force", force});
        const nlohmann::json json = nlohmann::json::parse(run.out);
        for (const nlohmann::json& finding : json["findings"]) {
            if (finding["title"].get<std::string>().find("the first limit is reached at") != std::string::npos) {
                return std::pair(run.exit, finding);
            }
        }
        return std::pair(run.exit, nlohmann::json());
    };
    const auto [light_exit, light] = strength_with("10 kN");
    const auto [heavy_exit, heavy] = strength_with("60 kN");
    CHECK(light_exit == 0);
    CHECK(heavy_exit == 1);
    CHECK(light["title"].get<std::string>().find("10 kN on the deck use") == 0);
    CHECK(heavy["title"].get<std::string>().find("60 kN on the deck use") == 0);
    CHECK(heavy["value"].get<double>() > 100);
    // It is the same press: the first limit is where it is.
    const auto limit_of = [](const nlohmann::json& finding) {
        const std::string title = finding["title"];
        return title.substr(title.rfind(" at "));
    };
    CHECK(limit_of(light) == limit_of(heavy));
    CHECK(heavy["why"].get<std::string>().find("the limits come in turn: ") != std::string::npos);
    CHECK(heavy["why"].get<std::string>().find("its rated load") != std::string::npos);
    for (const char* wrong : {"lots", "-3 kN", "0", "3 ton", "nan"}) {
        CAPTURE(wrong);
        const Run run = evenclose({"check", demo("crescent.set-up.json"), std::string("--force=") + wrong});
        CHECK(run.exit == 64);
        CHECK(run.err.find("--force") != std::string::npos);
        CHECK(lines_of(run.err) == 1);
    }
}

TEST_CASE("cli: fit tells a line a mold, goes on past a broken one, and keeps its schema") {
    const ReadmeDocuments box("fit");
    fs::create_directories(box.path("molds/old"));
    const std::string good = box.read("box.mold.json");
    const auto mold = [&](const char* name, const std::string& from, const std::string& to) {
        box.write(name, good);
        box.replace(name, from, to);
    };
    mold("molds/a.mold.json", "Flat board", "Board A");
    mold("molds/old/b.mold.json", "[500, 200, 60]", "[500, 200, 290]"); // 210 of daylight
    const Run two = evenclose({"fit", box.path("box.press.json"), box.path("molds"), "--json"});
    CAPTURE(two.out);
    CAPTURE(two.err);
    CHECK(two.exit == 1);
    const nlohmann::json json = nlohmann::json::parse(two.out);
    CHECK(keeps_schema(json, "fit.schema.json"));
    nlohmann::json spoiled = json;
    spoiled["molds"][1]["first"]["verdict"] = "perhaps"; // the finding's own schema is looked at
    CHECK_FALSE(keeps_schema(spoiled, "fit.schema.json"));
    REQUIRE(json["molds"].size() == 2);
    CHECK(json["fitting"] == 1);
    CHECK(json["molds"][0]["mold"] == "Board A");
    CHECK(json["molds"][0]["fits"] == true);
    CHECK(json["molds"][1]["fits"] == false);
    CHECK(json["molds"][1]["first"]["margin"].get<double>() < 0);

    mold("molds/c.mold.json", "\"thickness\": 1.5", "\"thickness\": -1.5");
    const Run three = evenclose({"fit", box.path("box.press.json"), box.path("molds")});
    CHECK(three.exit == 2);
    CHECK(three.out.find("Board A") != std::string::npos);
    CHECK(three.out.find("stack.plies[0].thickness") != std::string::npos);
    CHECK(three.out.find("1 of 3 fits, 1 is stopped, 1 cannot be read.") != std::string::npos);
    const Run csv = evenclose({"fit", box.path("box.press.json"), box.path("molds"), "--csv"});
    CHECK(lines_of(csv.out) == 4);
    CHECK(csv.out.starts_with("file,mold,fits,verdict,check,value,limit,margin,unit,what,do\r\n"));
    // The limits of a set-up hold where it is named: 15 of room asked for, then 100.
    CHECK(evenclose({"fit", box.path("box.press.json"), box.path("molds/a.mold.json")}).exit == 0);
    box.replace("box.set-up.json", "\"loading_clearance\": 15", "\"loading_clearance\": 100");
    const Run like = evenclose({"fit", box.path("box.press.json"), box.path("molds/a.mold.json"), "--like",
                                box.path("box.set-up.json"), "--json"});
    CAPTURE(like.out);
    CHECK(nlohmann::json::parse(like.out)["molds"][0]["first"]["verdict"] == "marginal");

    CHECK(evenclose({"fit", box.path("box.press.json")}).exit == 64);
    CHECK(evenclose({"fit", box.path("box.press.json"), box.path("molds"), "--json", "--csv"}).exit == 64);
    fs::create_directories(box.path("empty"));
    const Run empty = evenclose({"fit", box.path("box.press.json"), box.path("empty")});
    CHECK(empty.exit == 2);
    CHECK(lines_of(empty.err) == 1);
    CHECK(evenclose({"fit", box.path("no.press.json"), box.path("molds")}).exit == 2);
}

TEST_CASE(
    "cli: plan on the demo press says how many openings go, writes set-ups that check accepts, and one more that it "
    "stops for the very reason that plan gave") {
    const ReadmeDocuments box("plan");
    const Run run = evenclose({"plan", demo("lantern.press.json"), demo("crescent.mold.json"), "--like",
                               demo("crescent.set-up.json"), "-o", box.path("plans"), "--json"});
    CAPTURE(run.out);
    CAPTURE(run.err);
    REQUIRE(run.exit == 0);
    const nlohmann::json plan = nlohmann::json::parse(run.out);
    CHECK(keeps_schema(plan, "plan.schema.json"));
    CHECK(plan["openings"] == 1);
    const nlohmann::json& stop = plan["one_more_stopped_by"];
    REQUIRE(stop.is_object());

    const Run more = evenclose({"check", plan["one_more_set_up"].get<std::string>(), "--json"});
    CHECK(more.exit == 1);
    const nlohmann::json found = nlohmann::json::parse(more.out);
    CHECK(found["setup"]["molds"].size() == 2);
    CHECK(std::find(found["findings"].begin(), found["findings"].end(), stop) != found["findings"].end());

    REQUIRE(plan["choices"].size() >= 3);
    bool higher = false;
    for (const nlohmann::json& choice : plan["choices"]) {
        const Run accepted = evenclose({"check", choice["set_up"].get<std::string>()});
        CAPTURE(accepted.out);
        CAPTURE(accepted.err);
        CHECK(accepted.exit == 0);
        higher = higher || choice["raise_head_mm"].get<double>() > 0;
    }
    CHECK(higher);
}

TEST_CASE("cli: plan tells what is missing, keeps to its words, and reads as a table and as CSV") {
    const ReadmeDocuments box("plan-words");
    const std::string press = box.path("box.press.json");
    const std::string mold = box.path("box.mold.json");
    const Run text = evenclose({"plan", press, mold, "--decks", "1"});
    CAPTURE(text.out);
    CAPTURE(text.err);
    CHECK(text.exit == 0);
    CHECK(text.out.starts_with("Flat board in Box on a post\n\nOne opening goes as the press stands"));
    CHECK(text.out.find("1 deck a pressing take") != std::string::npos);
    CHECK(text.out.find("Decks a week are not told. Missing: \"crew\" in the set-up") != std::string::npos);
    const Run csv = evenclose({"plan", press, mold, "--csv"});
    CHECK(csv.out.starts_with("openings,molds,people,"));
    CHECK(lines_of(csv.out) >= 2);
    CHECK(evenclose({"plan", press}).exit == 64);
    CHECK(evenclose({"plan", press, mold, "--decks", "0"}).exit == 64);
    CHECK(evenclose({"plan", press, mold, "--decks", "2", "--decks-a-week", "9"}).exit == 64);
    CHECK(evenclose({"plan", press, mold, "--platen", "elephant"}).exit == 64);
    CHECK(evenclose({"plan", press, box.path("no.mold.json")}).exit == 2);
    CHECK(evenclose({"plan", press, mold, "-o", "/proc/no/such"}).exit == 2);
}

} // namespace evenclose
