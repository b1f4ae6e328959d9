// SPDX-License-Identifier: MIT
#if CELLARER_CATCH2_VERSION == 3
#include <catch2/catch_session.hpp>

int main(int count, char** values) { return Catch::Session().run(count, values); }
#else
#define CATCH_CONFIG_MAIN
#include <catch2/catch.hpp>
#endif
