// tests/scene/outline/wounded.hpp: a text spoiled at random: letters changed, cut out, numbers put in.
#pragma once

#include <random>
#include <string>

namespace evenclose::test {

/// One to four wounds; numbers put in lie below `below`.
inline std::string wounded(std::string text, std::mt19937& random, std::mt19937::result_type below) {
    for (unsigned wound = 0; wound < 1 + random() % 4; ++wound) {
        const std::size_t at = random() % text.size();
        switch (random() % 3) {
        case 0:
            text[at] = static_cast<char>(random());
            break;
        case 1:
            text.erase(at, 1 + random() % 12);
            break;
        default:
            text.insert(at, std::to_string(random() % below));
        }
    }
    return text;
}

} // namespace evenclose::test
