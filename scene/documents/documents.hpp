// scene/documents/documents.hpp: reads press, mold and set-up documents (JSON with // comments) with all they refer to.
//
// Every fault of a file is told at once. A document with a fault gives no value; notes (a guessed unit) do not stop it.
#pragma once

#include "scene/documents/document_fault.hpp"
#include "scene/documents/document_texts.hpp"
#include "scene/setup/setup.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

template <class T> struct Loaded {
    std::optional<T> value; // only when there is no fault
    std::vector<DocumentFault> faults;
    std::vector<std::string> notes; // worth telling, not wrong
};

[[nodiscard]] Loaded<Press> read_press(const std::filesystem::path& file);
[[nodiscard]] Loaded<Mold> read_mold(const std::filesystem::path& file);
/// Reads the press and the molds it names as well; their faults are told too. `texts` stand in for files.
[[nodiscard]] Loaded<Setup> read_setup(const std::filesystem::path& file, const DocumentTexts& texts = {});

} // namespace evenclose
