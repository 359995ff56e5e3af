// The window's state of the folder of molds, and the jobs that fill it.
#include "viewer/app/apply.hpp"
#include "viewer/app/mold_jobs.hpp"

#include "tests/scene/documents/temporary_folder.hpp"
#include "tests/viewer/app/small_press.hpp"
#include "tests/within.hpp"
#include "viewer/app/mold_documents.hpp"
#include "viewer/render/mold_picture.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <functional>
#include <thread>

using namespace evenclose;
using namespace evenclose::test;

namespace fs = std::filesystem;
using namespace std::chrono_literals;

namespace {

std::string block_mold(const std::string& name, int height) {
    return fmt::format(R"({{ "evenclose": "mold", "version": 1, "name": "{}", "lower": {{ "block": [500, 200, {}] }},
                             "upper": {{ "block": [500, 200, 60] }},
                             "stack": {{ "plies": [ {{ "thickness": 1.5, "grain": "along" }} ] }} }})",
                       name, height);
}

std::vector<Order> want(App& app, const MoldsIntent& intent) { return evenclose::apply(app, Intent{intent}); }
std::vector<Order> show(App& app, Sheet sheet) { return evenclose::apply(app, Intent{ShowSheet{sheet}}); }

template <class T> const T* among(const std::vector<Order>& orders) {
    for (const Order& order : orders) {
        if (const T* found = std::get_if<T>(&order)) {
            return found;
        }
    }
    return nullptr;
}

/// A window with a set-up in it whose press is `press`, as text.
struct Shop {
    TemporaryFolder folder;
    fs::path setup = document_id(
        folder.write("a.set-up.json",
                     R"({ "name": "S", "press": "a.press.json", "openings": [ { "mold": "molds/a.mold.json" } ] })"));
    fs::path press = document_id(folder.write("a.press.json", R"({ "height": 1 })"));
    fs::path a = folder.write("molds/a.mold.json", block_mold("A", 60));
    fs::path b = folder.write("molds/b.mold.json", block_mold("B", 90));
    App app;
    Shop() {
        evenclose::apply(app, OpenSetup{setup.string()});
        read();
    }
    std::vector<Order> read() {
        auto value = std::make_shared<Setup>();
        value->press = std::make_shared<const Press>();
        value->openings.push_back({"molds/a.mold.json", std::make_shared<const Mold>(), {}, 0});
        return evenclose::apply(
            app, SetupRead{app.generation, value, small_press(), {}, {}, gathered_texts(setup, app.documents.texts)});
    }
    /// As the job would list it.
    MoldsListed listed() const { return {app.molds.number, list_molds(app.molds.folder, {})}; }
    ListedMold mold(const std::string& name) const {
        for (const ListedMold& one : app.molds.listing->molds) {
            if (one.name == name) {
                return one;
            }
        }
        throw std::runtime_error("no mold " + name);
    }
};

std::shared_ptr<const Fit> fit(Verdict verdict) {
    Fit made;
    made.verdict = verdict;
    return std::make_shared<const Fit>(made);
}

std::shared_ptr<const MoldLook> look(const MoldPictureWish& wish) {
    MoldLook made;
    made.wish = wish;
    return std::make_shared<const MoldLook>(made);
}

/// What the job hands over until `enough`, or for ten seconds.
std::vector<MoldsIntent> news_of(const BackgroundJobs::Job& job,
                                 const std::function<bool(const MoldsIntent&)>& enough) {
    std::vector<MoldsIntent> all;
    std::atomic<bool> done{false};
    BackgroundJobs jobs([] {});
    jobs.start(job);
    const auto until = std::chrono::steady_clock::now() + 60s;
    while (!done && std::chrono::steady_clock::now() < until) {
        for (const Intent& intent : jobs.take()) {
            REQUIRE(std::holds_alternative<MoldsIntent>(intent));
            all.push_back(std::get<MoldsIntent>(intent));
            done = done || enough(all.back());
        }
        std::this_thread::sleep_for(5ms);
    }
    CHECK(done);
    return all;
}

} // namespace

TEST_CASE("molds of a folder are found in it and so far below as asked, by name, and a fault is told") {
    TemporaryFolder folder;
    folder.write("b.mold.json", "");
    folder.write("a.mold.json", "");
    folder.write("deep/c.mold.json", "");
    folder.write("deep/deeper/d.mold.json", "");
    folder.write("mold.json.txt", "");
    fs::create_directories(folder.path() / "e.mold.json"); // a folder of that name
    const auto names = [&](const MoldSearch& search) {
        std::string all;
        for (const fs::path& file : mold_documents(folder.path(), search).files) {
            all += file.filename().string().substr(0, 1);
        }
        return all;
    };
    CHECK(names({}) == "abcd");
    CHECK(names({.depth = 0}) == "ab");
    CHECK(names({.depth = 1}) == "abc");
    CHECK(names({.molds = 2}).size() == 2);
    CHECK(mold_documents(folder.path(), {.molds = 2}).cut_short);
    CHECK(mold_documents(folder.path(), {.entries = 3}).cut_short);
    CHECK(!mold_documents(folder.path()).cut_short);
    const MoldDocuments gone = mold_documents(folder.path() / "nowhere");
    CHECK(gone.files.empty());
    CHECK(gone.fault == "No such file or directory");
}

TEST_CASE("the sheet shows the folder of the mold in the press, or the one that was chosen, which is kept") {
    Shop shop;
    App& app = shop.app;
    auto orders = show(app, Sheet::molds);
    REQUIRE(among<StartMoldLooks>(orders));
    CHECK(among<StartMoldLooks>(orders)->folder == document_id(shop.folder.path() / "molds"));
    CHECK(!among<StartMoldFits>(orders)); // nothing is listed yet
    CHECK(app.molds.looks_on());
    const fs::path other = shop.folder.path() / "other";
    orders = want(app, SetMoldFolder{other.string() + "/"});
    CHECK(among<KeepSettings>(orders)->settings.molds_folder == other.string() + "/");
    CHECK(among<StartMoldLooks>(orders)->folder == other);
    orders = show(app, Sheet::none);
    CHECK(among<EndMoldLooks>(orders));
    orders = show(app, Sheet::molds);
    CHECK(among<StartMoldLooks>(orders)->folder == other);
    orders = want(app, SetMoldFolder{});
    CHECK(among<StartMoldLooks>(orders)->folder == document_id(shop.folder.path() / "molds"));

    TemporaryFolder state;
    keep_settings(state.path(), {ThemeWish::dark, "/shop/molds = all"});
    CHECK(read_settings(state.path()) == Settings{ThemeWish::dark, "/shop/molds = all"});
    keep_settings(state.path(), {ThemeWish::dark, "/shop/mo\nlds"});
    CHECK(read_settings(state.path()).molds_folder.empty());
}

TEST_CASE("the press is asked about what is not known of it, once, and again when it or a mold is another one") {
    Shop shop;
    App& app = shop.app;
    show(app, Sheet::molds);
    auto orders = want(app, shop.listed());
    const auto* asked = among<StartMoldFits>(orders);
    REQUIRE(asked);
    CHECK(asked->molds.size() == 2);
    CHECK(asked->like == app.setup);
    CHECK(app.molds.fits_run);
    CHECK(app.molds.to_fit == 2);
    const std::uint64_t number = asked->number;
    const std::string press = asked->press;
    want(app, MoldFitted{number, press, shop.mold("A"), fit(Verdict::go), 3.0});
    CHECK(app.molds.fitted == 1);
    CHECK(*app.molds.seconds_left == 3.0);
    // The same listing over again disturbs nothing.
    CHECK(want(app, shop.listed()).empty());
    // Closed and opened again, the rest is asked; what is known is not.
    show(app, Sheet::none);
    CHECK(app.molds.fits_run); // it goes on meanwhile
    orders = show(app, Sheet::molds);
    REQUIRE(among<StartMoldFits>(orders));
    CHECK(among<StartMoldFits>(orders)->molds.size() == 1);
    CHECK(among<StartMoldFits>(orders)->molds.front().name == "B");
    want(app, MoldFitted{app.molds.fitting, press, shop.mold("B"), fit(Verdict::no_go), {}});
    want(app, MoldFitsEnded{number}); // of the older asking
    CHECK(app.molds.fits_run);
    want(app, MoldFitsEnded{app.molds.fitting});
    CHECK(!app.molds.fits_run);
    CHECK(!among<StartMoldFits>(show(app, Sheet::molds)));

    // A mold is written anew.
    std::this_thread::sleep_for(20ms);
    shop.folder.write("molds/b.mold.json", block_mold("B", 91));
    orders = want(app, shop.listed());
    REQUIRE(among<StartMoldFits>(orders));
    CHECK(among<StartMoldFits>(orders)->molds.size() == 1);
    want(app, StopMoldFits{});
    CHECK(!app.molds.fits_run);
    CHECK(want(app, shop.listed()).empty());
    CHECK(among<StartMoldFits>(want(app, GoOnWithFits{}))->molds.size() == 1);

    // Another press: all of them; and the one before is not forgotten.
    want(app, StopMoldFits{});
    want(app, GoOnWithFits{});
    evenclose::apply(app,
                     Intent{EditIntent{EditDocuments{{{shop.press, DocumentEdit::What::set, "height", "2"}}, ""}}});
    orders = shop.read();
    REQUIRE(among<StartMoldFits>(orders));
    CHECK(among<StartMoldFits>(orders)->molds.size() == 2);
    CHECK(among<StartMoldFits>(orders)->press != press);
    evenclose::apply(app, Intent{EditIntent{Undo{}}});
    orders = shop.read();
    CHECK(among<StartMoldFits>(orders)->molds.size() == 1);
    // While the sheet is closed the work for an older press ends.
    show(app, Sheet::none);
    evenclose::apply(app, Intent{EditIntent{Redo{}}});
    orders = shop.read();
    CHECK(among<EndMoldFits>(orders));
    CHECK(!app.molds.fits_run);
}

TEST_CASE("what cannot be read is not asked about, what an older looking brings is not taken") {
    Shop shop;
    App& app = shop.app;
    shop.folder.write("molds/c.mold.json", R"({ "evenclose": "mold", "name": "C", )");
    show(app, Sheet::molds);
    const MoldsListed older = shop.listed();
    want(app, SetMoldPictures{{320, 200, Theme::light}});
    CHECK(want(app, older).empty());
    CHECK(!app.molds.listed);
    want(app, shop.listed());
    CHECK(app.molds.listing->molds.size() == 3);
    CHECK(app.molds.listing->molds.back().name == "c"); // by its file, since it has no name
    MoldLook broken;
    broken.wish = app.molds.wish;
    broken.faults.push_back({"c.mold.json", "", "", "is no JSON", "", "", 1, 1});
    want(app, MoldLooked{shop.mold("c"), std::make_shared<const MoldLook>(broken)});
    CHECK(app.molds.looks_on());
    for (const char* name : {"A", "B"}) {
        want(app, MoldLooked{shop.mold(name), look(app.molds.wish)});
    }
    CHECK(!app.molds.looks_on());
    want(app, StopMoldFits{});
    CHECK(among<StartMoldFits>(want(app, GoOnWithFits{}))->molds.size() == 2);
    // Another size: pictures are made anew, all of them.
    const auto orders = want(app, SetMoldPictures{{640, 400, Theme::light}});
    REQUIRE(among<StartMoldLooks>(orders));
    CHECK(among<StartMoldLooks>(orders)->known.empty());
    CHECK(app.molds.looks_on());
    CHECK(want(app, SetMoldPictures{{640, 400, Theme::light}}).empty());
}

TEST_CASE("a mold is taken into the chosen opening as an edit, one is compared without any") {
    Shop shop;
    App& app = shop.app;
    evenclose::apply(app, Checked{app.generation, small_results()});
    show(app, Sheet::molds);
    want(app, shop.listed());
    auto orders = want(app, CompareMold{shop.a});
    CHECK(orders.size() == 1); // the sheet is left
    CHECK(app.notice.find("in the press already") != std::string::npos);
    show(app, Sheet::molds);
    orders = want(app, CompareMold{shop.b});
    const auto* comparison = among<StartComparison>(orders);
    REQUIRE(comparison);
    CHECK(comparison->other.name == "B");
    CHECK(comparison->texts.at(shop.setup)->find("molds/b.mold.json") != std::string::npos);
    CHECK(app.documents.texts.at(shop.setup)->find("molds/a.mold.json") != std::string::npos);
    CHECK(!app.documents.unsaved());
    CHECK(app.sheet == Sheet::compare);
    CHECK(app.molds.comparing->name == "B");
    ComparedMold other = comparison->other;
    other.results = small_results();
    want(app, MoldCompared{app.molds.compared - 1, other, {}}); // an older one
    CHECK(!app.compared);
    want(app, MoldCompared{app.molds.compared, other, {}});
    REQUIRE(app.compared);
    CHECK(app.compared->name == "B");
    CHECK(!app.molds.comparing);
    show(app, Sheet::none);
    // And the other one is a key away.
    CHECK(among<StartJob>(evenclose::apply(app, Intent{EditIntent{ToggleMold{}}})));
    CHECK(app.documents.done.back().label == "mold: b.mold.json");
    evenclose::apply(app, Intent{EditIntent{Undo{}}});

    // Left while it runs, it ends.
    shop.read();
    show(app, Sheet::molds);
    want(app, CompareMold{shop.b});
    CHECK(among<EndComparison>(show(app, Sheet::none)));
    CHECK(!app.molds.comparing);

    show(app, Sheet::molds);
    orders = want(app, TakeMold{shop.b});
    CHECK(among<StartJob>(orders));
    CHECK(among<EndMoldLooks>(orders));
    CHECK(app.sheet == Sheet::none);
    CHECK(!app.molds.fits_run);
    CHECK(app.documents.done.back().label == "mold: b.mold.json");
    CHECK(app.documents.unsaved());
}

TEST_CASE("the looking tells what lies in the folder, draws what can be read, and sees what changes, goes and comes") {
    TemporaryFolder folder;
    const fs::path a = folder.write("a.mold.json", block_mold("A", 60));
    folder.write("b.mold.json", R"({ "evenclose": "mold", "lower": 7 })");
    StartMoldLooks order;
    order.number = 5;
    order.folder = folder.path();
    order.wish = {64, 40, Theme::light};
    order.in_sight = std::make_shared<MoldsInSight>();
    std::size_t listings = 0;
    std::size_t looked = 0;
    const auto news = news_of(mold_looks_job(order, light_palette()), [&](const MoldsIntent& intent) {
        listings += std::holds_alternative<MoldsListed>(intent) ? 1 : 0;
        looked += std::holds_alternative<MoldLooked>(intent) ? 1 : 0;
        if (listings == 1 && looked == 2) {
            listings = 2; // once
            folder.write("c.mold.json", block_mold("C", 30));
            fs::remove(folder.path() / "b.mold.json");
        }
        return listings >= 3 && looked >= 3;
    });
    const auto* first = std::get_if<MoldsListed>(&news.front());
    REQUIRE(first);
    CHECK(first->number == 5);
    REQUIRE(first->listing.molds.size() == 2);
    CHECK(first->listing.molds[0].name == "A");
    CHECK(first->listing.molds[1].name == "b");
    std::vector<std::string> last;
    for (const MoldsIntent& intent : news) {
        if (const auto* listed = std::get_if<MoldsListed>(&intent)) {
            last.clear();
            for (const ListedMold& mold : listed->listing.molds) {
                last.push_back(mold.name);
            }
        }
        const auto* told = std::get_if<MoldLooked>(&intent);
        if (told == nullptr) {
            continue;
        }
        CAPTURE(told->mold.name);
        CHECK(told->look->faults.empty() == (told->mold.name != "b"));
        CHECK((told->look->picture != nullptr) == (told->mold.name != "b"));
        if (told->mold.name == "A") {
            // 60 and 60 high with 1.5 of stack between.
            CHECK(near(told->look->size_mm.x, 500, 1e-9));
            CHECK(near(told->look->size_mm.y, 200, 1e-9));
            CHECK(near(told->look->size_mm.z, 121.5, 1e-9));
            CHECK(told->look->picture->width == 64);
            CHECK(told->look->picture->height == 40);
        }
    }
    CHECK(last == std::vector<std::string>{"A", "C"});
}

TEST_CASE("a folder that is not there is told as such") {
    const MoldListing listing = list_molds("/nowhere/at/all", {});
    CHECK(listing.molds.empty());
    CHECK(listing.fault == "No such file or directory");
}

TEST_CASE("a mold's picture holds both halves, apart by so much that their faces show") {
    Mold mold;
    mold.lower.mesh = box_mesh({400, 100, 60});
    mold.upper.mesh = box_mesh({300, 120, 40});
    mold.lower.shape = BlockHalf{{400, 100, 60}, {}};
    mold.upper.shape = BlockHalf{{300, 120, 40}, {}};
    mold.shut_height_mm = 105;
    CHECK(mold_size_mm(mold).x == 400);
    CHECK(mold_size_mm(mold).y == 120);
    CHECK(mold_size_mm(mold).z == 105);
    const Frame frame = mold_picture(mold, light_palette(), 1.6);
    REQUIRE(frame.bodies.size() == 2);
    // Closed, the lower's seat at -30 and the upper's, drawn at +20, at 105 above it: 55 up; and 0.55 of the height more.
    CHECK(near(frame.bodies[1].pose.translation_mm.z, 55 + 0.55 * 105, 1e-9));
    CHECK(frame.bodies[0].pose.translation_mm.z == 0);
    Mold empty;
    CHECK(mold_picture(empty, light_palette(), 1.6).bodies.empty());
    CHECK(mold_size_mm(empty) == Vec3{0.0});
}
