// viewer/app/mold_store.hpp: what was found out about molds, kept in memory as long as their files stand as they stood.
//
// A mold is known by its document and the stamps of all files that it hangs on (watched_files.hpp); what the press says of
// it also by the press. Of a mold that changed nothing is left. Threads: the window's own.
#pragma once

#include "checks/fit/fit.hpp"
#include "viewer/app/theme.hpp"
#include "viewer/app/watched_files.hpp"
#include "viewer/render/frame.hpp"

#include <cstddef>
#include <deque>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

struct ListedMold {
    std::filesystem::path file; // absolute
    std::string name;           // as its document says, else the file's
    FileStamps stamps;          // of the document and all that it names
    bool operator==(const ListedMold&) const = default;
};

struct MoldPictureWish {
    int width = 0, height = 0; // pixels; 0: no picture is wanted yet
    Theme theme = Theme::light;
    bool operator==(const MoldPictureWish&) const = default;
};

/// What is seen of a mold without asking a press.
struct MoldLook {
    MoldPictureWish wish;
    Vec3 size_mm{0.0};                    // closed: along the deck, across it, from seat to seat
    std::vector<DocumentFault> faults;    // it cannot be read
    std::shared_ptr<const Image> picture; // null: it cannot be read, or nothing here can draw it
};

class MoldStore {
public:
    // As many presses as one goes to and fro between; as many molds as no shop has.
    static constexpr std::size_t kMostPresses = 4, kMostMolds = 2000;

    void keep(const ListedMold& mold, std::shared_ptr<const MoldLook> look);
    void keep(const ListedMold& mold, const std::string& press, std::shared_ptr<const Fit> fit);
    /// Null if it is not known as it stands now.
    [[nodiscard]] std::shared_ptr<const MoldLook> look(const ListedMold& mold) const;
    [[nodiscard]] std::shared_ptr<const Fit> fit(const ListedMold& mold, const std::string& press) const;
    [[nodiscard]] std::size_t size() const { return known_.size(); }

private:
    struct Known {
        FileStamps stamps;
        std::shared_ptr<const MoldLook> look;
        std::deque<std::pair<std::string, std::shared_ptr<const Fit>>> fits; // by press, the newest last
    };
    Known& entry(const ListedMold& mold);
    [[nodiscard]] const Known* found(const ListedMold& mold) const;

    std::map<std::string, Known> known_; // by file
};

} // namespace evenclose
