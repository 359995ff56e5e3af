#include "checks/report/markup.hpp"

#include <array>
#include <cstdint>

namespace evenclose {

std::string escaped(std::string_view text) {
    std::string result;
    result.reserve(text.size());
    for (const char letter : text) {
        switch (letter) {
        case '&':
            result += "&amp;";
            break;
        case '<':
            result += "&lt;";
            break;
        case '>':
            result += "&gt;";
            break;
        case '"':
            result += "&quot;";
            break;
        case '\'':
            result += "&#39;";
            break;
        default:
            if (static_cast<unsigned char>(letter) >= 0x20 || letter == '\n' || letter == '\t') {
                result += letter;
            }
        }
    }
    return result;
}

std::string base64(std::string_view bytes) {
    constexpr std::string_view kLetters = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    std::string result;
    result.reserve((bytes.size() + 2) / 3 * 4);
    for (std::size_t at = 0; at < bytes.size(); at += 3) {
        std::uint32_t three = 0;
        for (std::size_t i = 0; i < 3; ++i) {
            three = (three << 8U) | (at + i < bytes.size() ? static_cast<unsigned char>(bytes[at + i]) : 0U);
        }
        for (std::size_t i = 0; i < 4; ++i) {
            result += at + i <= bytes.size() ? kLetters[(three >> (18U - 6U * i)) & 0x3FU] : '=';
        }
    }
    return result;
}

} // namespace evenclose
