#pragma once
#include "tests/tsan/tbb/plain_threads.hpp"
