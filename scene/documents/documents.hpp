// scene/documents/documents.hpp: reads press, mold and set-up documents (JSON with // comments) with all they refer to.
//
// Every fault of a file is told at once. A document with a fault gives no value; notes (a guessed unit) do not stop it.
#pragma once

#include "scene/setup/setup.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct DocumentFault {
    std::string file;    // as the shop named it
    std::string place;   // "jacks[1].stroke"; empty for the file as a whole
    std::string found;   // what was read there: "-20", "\"dayligth\""
    std::string allowed; // what would do, as a sentence part
    std::string nearest; // for a misspelt word: the right one; else empty

    /// One line: "oak.press.json: jacks[1].stroke: -20 is no length; give a positive one, such as \"180 mm\" or \"7 in\""
    [[nodiscard]] std::string sentence() const;
};

template <class T> struct Loaded {
    std::optional<T> value; // only when there is no fault
    std::vector<DocumentFault> faults;
    std::vector<std::string> notes; // worth telling, not wrong
};

[[nodiscard]] Loaded<Press> read_press(const std::filesystem::path& file);
[[nodiscard]] Loaded<Mold> read_mold(const std::filesystem::path& file);
/// Reads the press and the molds it names as well; their faults are told too.
[[nodiscard]] Loaded<Setup> read_setup(const std::filesystem::path& file);

} // namespace evenclose
