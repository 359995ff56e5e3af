#include "checks/report/loud.hpp"

#include <algorithm>
#include <cctype>

namespace evenclose {

std::string loud(Verdict verdict) {
    std::string word = name_of(verdict);
    std::transform(word.begin(), word.end(), word.begin(),
                   [](unsigned char letter) { return static_cast<char>(std::toupper(letter)); });
    return word;
}

} // namespace evenclose
