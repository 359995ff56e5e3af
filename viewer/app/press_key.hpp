// viewer/app/press_key.hpp: what a set-up is for a mold that stands in it alone, as text: two that are the same for it have
// the same key.
#pragma once

#include "viewer/app/watched_files.hpp"

#include <string>

namespace evenclose {

/// The set-up's document but for its name, its openings and the platens between them; the press's document; the stamps of
/// the files that the press names. `files` as all was read. Empty where the set-up is not among `texts`.
[[nodiscard]] std::string press_key(const std::filesystem::path& setup, const DocumentTexts& texts,
                                    const FileStamps& files);

} // namespace evenclose
