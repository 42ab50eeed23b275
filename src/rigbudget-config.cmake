# SPDX-License-Identifier: GPL-3.0-or-later
include(CMakeFindDependencyMacro)
find_dependency(PkgConfig)
pkg_check_modules(GSL REQUIRED IMPORTED_TARGET gsl)
pkg_check_modules(CJSON REQUIRED IMPORTED_TARGET libcjson>=1.7.15)
include(${CMAKE_CURRENT_LIST_DIR}/rigbudget-targets.cmake)
