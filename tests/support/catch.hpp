// SPDX-License-Identifier: MIT
#pragma once
/// Catch2 of Debian 12 (version 2) or of Debian 13 (version 3): the same words for both.
#if CELLARER_CATCH2_VERSION == 3
#include <catch2/catch_all.hpp>
using Catch::Approx;
#else
#include <catch2/catch.hpp>
#endif
