#include "viewer/app/apply.hpp"
#include "viewer/app/press_key.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <system_error>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

using Orders = std::vector<Order>;

/// Of the mold in the chosen opening; empty if there is none.
fs::path mold_in_press(const App& app) {
    if (!app.setup || app.opening >= app.setup->openings.size()) {
        return {};
    }
    return document_id(app.documents.setup.parent_path() / app.setup->openings[app.opening].mold_file);
}

void add(Orders& orders, Orders more) {
    orders.insert(orders.end(), std::make_move_iterator(more.begin()), std::make_move_iterator(more.end()));
}

/// Those about which this press has said nothing yet.
std::vector<ListedMold> not_fitted(const Molds& molds) {
    std::vector<ListedMold> waiting;
    for (const ListedMold& mold : molds.listing->molds) {
        const auto look = molds.store->look(mold);
        if (!molds.store->fit(mold, molds.press) && !(look && !look->faults.empty())) {
            waiting.push_back(mold);
        }
    }
    return waiting;
}

Orders end_fits(Molds& molds) {
    ++molds.fitting;
    molds.fitted = molds.to_fit = 0;
    molds.seconds_left.reset();
    return std::exchange(molds.fits_run, false) ? Orders{EndMoldFits{}} : Orders{};
}

Orders ask_press(App& app) {
    Molds& molds = app.molds;
    if (!app.setup || !app.setup->press || molds.press.empty() || molds.fits_stopped || !molds.listed) {
        return {};
    }
    std::vector<ListedMold> waiting = not_fitted(molds);
    if (waiting.empty()) {
        return end_fits(molds);
    }
    ++molds.fitting;
    molds.fits_run = true;
    molds.fitted = 0;
    molds.to_fit = waiting.size();
    molds.seconds_left.reset();
    return {StartMoldFits{molds.fitting, app.setup, molds.press, std::move(waiting), molds.in_sight}};
}

Orders look_through(Molds& molds) {
    ++molds.number;
    StartMoldLooks order{molds.number, molds.folder, molds.wish, *molds.listing, {}, molds.in_sight};
    for (const ListedMold& mold : molds.listing->molds) {
        if (const auto look = molds.store->look(mold); look && look->wish == molds.wish) {
            order.known.emplace(mold.file, mold.stamps);
        }
    }
    return {std::move(order)};
}

/// Shows the folder; what is known of it stands there at once.
Orders show_folder(App& app, const fs::path& folder) {
    Molds& molds = app.molds;
    std::error_code ignored;
    fs::path whole = fs::absolute(folder, ignored).lexically_normal();
    if (!whole.has_filename() && whole.has_parent_path()) { // "molds/"
        whole = whole.parent_path();
    }
    if (whole != molds.folder) {
        molds.folder = std::move(whole);
        molds.listing = std::make_shared<const MoldListing>();
        molds.listed = false;
        molds.in_sight->set({});
    }
    molds.fits_stopped = false;
    Orders orders = look_through(molds);
    add(orders, molds.listed ? ask_press(app) : end_fits(molds));
    return orders;
}

struct MoldsApplied {
    App& app;

    Orders operator()(const SetMoldFolder& intent) const {
        std::error_code ignored;
        app.session.settings.molds_folder =
            intent.folder.empty() ? std::string() : fs::absolute(intent.folder, ignored).string();
        Orders orders{KeepSettings{app.session.settings}};
        add(orders, show_folder(app, molds_folder(app)));
        return orders;
    }
    Orders operator()(const SetMoldPictures& intent) const {
        if (intent.wish == app.molds.wish || app.sheet != Sheet::molds) {
            return {};
        }
        app.molds.wish = intent.wish;
        return look_through(app.molds);
    }
    Orders operator()(const StopMoldFits&) const {
        app.molds.fits_stopped = true;
        return end_fits(app.molds);
    }
    Orders operator()(const GoOnWithFits&) const {
        app.molds.fits_stopped = false;
        return ask_press(app);
    }
    Orders operator()(const TakeMold& intent) const {
        if (!app.setup || app.opening >= app.setup->openings.size()) {
            return {};
        }
        app.sheet = Sheet::none;
        Orders orders = end_fits(app.molds); // the check of the mold comes first; the rest when the sheet opens again
        add(orders, apply_edit(app, EditIntent{SwapMold{app.opening, intent.file.string()}}));
        return orders;
    }
    Orders operator()(const CompareMold& intent) const {
        if (!app.setup || app.opening >= app.setup->openings.size()) {
            return {};
        }
        const fs::path file = document_id(intent.file);
        if (file == mold_in_press(app)) {
            app.sheet = Sheet::none;
            app.notice = "That mold is in the press already: choose another one to compare it with";
            app.notice_bad = false;
            return {};
        }
        std::string name = file.filename().string();
        for (const ListedMold& mold : app.molds.listing->molds) {
            name = mold.file == intent.file ? mold.name : name;
        }
        EditedDocuments with_it = app.documents;
        std::vector<std::string> faults;
        if (auto fault = edit(with_it, {mold_in_opening(with_it, app.opening, file)}, "")) {
            faults = {std::move(*fault)};
        }
        ++app.molds.compared;
        app.molds.comparing = MoldComparing{name, std::move(faults)};
        app.sheet = Sheet::compare;
        if (!app.molds.comparing->faults.empty()) {
            return {};
        }
        Orders orders = end_fits(app.molds);
        orders.emplace_back(StartComparison{app.molds.compared, app.file, std::move(with_it.texts),
                                            ComparedMold{app.opening, file, std::move(name), nullptr}});
        return orders;
    }
    Orders operator()(const MoldsListed& news) const {
        if (news.number != app.molds.number) {
            return {};
        }
        if (app.molds.listed && news.listing == *app.molds.listing) {
            return {}; // it was known already, and the press asked
        }
        app.molds.listed = true;
        app.molds.listing = std::make_shared<const MoldListing>(news.listing);
        return ask_press(app);
    }
    Orders operator()(const MoldLooked& news) const {
        app.molds.store->keep(news.mold, news.look);
        return {};
    }
    Orders operator()(const MoldFitted& news) const {
        app.molds.store->keep(news.mold, news.press, news.fit);
        if (news.number == app.molds.fitting && app.molds.fits_run) {
            ++app.molds.fitted;
            app.molds.seconds_left = news.seconds_left;
        }
        return {};
    }
    Orders operator()(const MoldFitsEnded& news) const {
        if (news.number == app.molds.fitting) {
            app.molds.fits_run = false;
        }
        return {};
    }
    Orders operator()(const MoldCompared& news) const {
        if (news.number != app.molds.compared || !app.molds.comparing) {
            return {};
        }
        if (news.other) {
            app.compared = news.other;
            app.molds.comparing.reset();
        } else {
            app.molds.comparing->faults = news.faults;
        }
        return {};
    }
};

Orders end_comparing(App& app) {
    const bool runs = app.molds.comparing && app.molds.comparing->faults.empty();
    app.molds.comparing.reset();
    ++app.molds.compared;
    return runs ? Orders{EndComparison{}} : Orders{};
}

} // namespace

bool Molds::looks_on() const {
    return !listed || std::any_of(listing->molds.begin(), listing->molds.end(), [this](const ListedMold& mold) {
        const auto look = store->look(mold);
        return !look || look->wish != wish;
    });
}

fs::path molds_folder(const App& app) {
    if (!app.session.settings.molds_folder.empty()) {
        return app.session.settings.molds_folder;
    }
    const fs::path mold = mold_in_press(app);
    return mold.empty() ? app.documents.setup.parent_path() : mold.parent_path();
}

std::vector<Order> open_molds(App& app) {
    return app.setup ? show_folder(app, molds_folder(app)) : std::vector<Order>{};
}

std::vector<Order> molds_of_press_read(App& app) {
    std::string press = press_key(app.documents.setup, app.documents.texts, app.files);
    Orders orders = end_comparing(app);
    if (press != app.molds.press) {
        app.molds.press = std::move(press);
        add(orders, app.sheet == Sheet::molds ? ask_press(app) : end_fits(app.molds));
    }
    return orders;
}

std::vector<Order> sheet_left(App& app, Sheet before) {
    Orders orders;
    if (before == Sheet::molds && app.sheet != Sheet::molds) {
        ++app.molds.number;
        orders.emplace_back(EndMoldLooks{});
    }
    if (before == Sheet::compare && app.sheet != Sheet::compare) {
        add(orders, end_comparing(app));
    }
    return orders;
}

std::vector<Order> apply_molds(App& app, const MoldsIntent& intent) { return std::visit(MoldsApplied{app}, intent); }

} // namespace evenclose
