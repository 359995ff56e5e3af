// viewer/app/molds.hpp: the folder of molds in the window: which documents lie there, how each looks, and how each fares in
// the press that is open. Told by background jobs as they find it out; what happens to it is an intent like all else.
//
// The folder is looked through again and again while its sheet is open, so a mold that comes, goes or changes shows by
// itself. What is known of a mold is kept by the stamps of all its files (MoldStore), and what the press says of it by the
// press as well (press_key), so that nothing is worked out twice.
#pragma once

#include "viewer/app/comparison.hpp"
#include "viewer/app/mold_store.hpp"

#include <cstdint>
#include <filesystem>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

namespace evenclose {

/// Which molds are before the person's eyes: those come first.   Threads: any.
class MoldsInSight {
public:
    void set(std::vector<std::filesystem::path> files) {
        const std::lock_guard lock(mutex_);
        files_ = std::move(files);
    }
    [[nodiscard]] std::vector<std::filesystem::path> get() const {
        const std::lock_guard lock(mutex_);
        return files_;
    }

private:
    mutable std::mutex mutex_;
    std::vector<std::filesystem::path> files_;
};

/// What lies in the folder.
struct MoldListing {
    std::vector<ListedMold> molds;
    std::string fault;      // why the folder cannot be looked into
    bool cut_short = false; // there is more than is shown
    bool operator==(const MoldListing&) const = default;
};

/// Another mold in the same opening of the same press, checked wholly so that the two can be held against each other.
struct MoldComparing {
    std::string name;
    std::vector<std::string> faults; // why it cannot be compared; empty: it is being checked
};

struct Molds {
    std::filesystem::path folder; // empty: none was shown yet
    std::uint64_t number = 0;     // of the looking that is waited for; what an older one brings is not taken
    bool listed = false;
    std::shared_ptr<const MoldListing> listing = std::make_shared<const MoldListing>(); // in the order shown
    MoldPictureWish wish;
    std::shared_ptr<MoldStore> store = std::make_shared<MoldStore>();
    std::shared_ptr<MoldsInSight> in_sight = std::make_shared<MoldsInSight>();

    std::string press;         // press_key() of the set-up that was last read
    std::uint64_t fitting = 0; // number of the fits that are waited for
    bool fits_run = false, fits_stopped = false;
    std::size_t fitted = 0, to_fit = 0;   // of those that were asked for together
    std::optional<double> seconds_left{}; // by how long the others took; none as long as there is none to go by

    std::uint64_t compared = 0; // number of the comparison that is waited for
    std::optional<MoldComparing> comparing;

    /// Pictures and sizes are still to come.
    [[nodiscard]] bool looks_on() const;
};

// What a person wants.
struct SetMoldFolder {
    std::filesystem::path folder; // empty: that of the mold in the press, whichever that is
};
/// The sheet says how large it shows them.
struct SetMoldPictures {
    MoldPictureWish wish;
};
struct StopMoldFits {};
struct GoOnWithFits {};
struct TakeMold {
    std::filesystem::path file;
}; // into the chosen opening
struct CompareMold {
    std::filesystem::path file;
}; // with the one in the chosen opening

// What the background jobs found.
struct MoldsListed {
    std::uint64_t number = 0;
    MoldListing listing;
};
struct MoldLooked {
    ListedMold mold;
    std::shared_ptr<const MoldLook> look;
};
struct MoldFitted {
    std::uint64_t number = 0;
    std::string press;
    ListedMold mold;
    std::shared_ptr<const Fit> fit;
    std::optional<double> seconds_left;
};
struct MoldFitsEnded {
    std::uint64_t number = 0;
};
struct MoldCompared {
    std::uint64_t number = 0;
    std::optional<ComparedMold> other; // none: `faults`
    std::vector<std::string> faults;
};

/// See Intent for why it is a class.
struct MoldsIntent : std::variant<SetMoldFolder, SetMoldPictures, StopMoldFits, GoOnWithFits, TakeMold, CompareMold,
                                  MoldsListed, MoldLooked, MoldFitted, MoldFitsEnded, MoldCompared> {
    using variant::variant;
    MoldsIntent();
    MoldsIntent(const MoldsIntent&);
    MoldsIntent(MoldsIntent&&) noexcept;
    MoldsIntent& operator=(const MoldsIntent&);
    MoldsIntent& operator=(MoldsIntent&&) noexcept;
    ~MoldsIntent();
};

} // namespace evenclose
