// tests/viewer/window/shop_files.hpp: small documents for the window's tests, with round numbers.
//
// Platen 700 x 300 x 40, face at z 240 when open, head's underside at 480: daylight 240. Block mold and 11.1 mm of plies:
// shut height 131.1. The right jack rises 1 % less. A bolt that stands in the platen's way at z 294 to 306.
#pragma once

#include <filesystem>
#include <string>

namespace evenclose::test {

enum class ShopFault { stray_bolt, none, unreadable };

/// Writes press, mold and set-up into `folder`; gives the set-up's path.
std::string write_shop_files(const std::filesystem::path& folder, ShopFault fault);

/// Three openings over one another, the flat board's mold in each, gaps of 40 to close; the head's underside at 803.3.
std::string write_stack(const std::filesystem::path& folder);

/// Two wavy halves of about `triangles` triangles each as binary STL, in a press whose jacks may stray: long to check.
std::string write_long_check(const std::filesystem::path& folder, std::size_t triangles);

} // namespace evenclose::test
