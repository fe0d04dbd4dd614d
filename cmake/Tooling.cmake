# Compiler flags every target shares, and the optional speed-ups for builds.
find_program(CCACHE_PROGRAM ccache)
if(CCACHE_PROGRAM)
  set(CMAKE_CXX_COMPILER_LAUNCHER ${CCACHE_PROGRAM})
endif()
find_program(MOLD_PROGRAM mold)

add_library(skewback_flags INTERFACE)
target_compile_options(skewback_flags INTERFACE
  -Wall -Wextra -Wpedantic -Wshadow -Wnon-virtual-dtor -Werror
  # answers must not move with the compiler's choice of fused operations
  -ffp-contract=off)
if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
  target_compile_options(skewback_flags INTERFACE -Wno-restrict)  # false alarm of GCC 12 on std::string (bug 105651)
endif()
if(MOLD_PROGRAM)
  target_link_options(skewback_flags INTERFACE -fuse-ld=mold)
endif()
if(SKEWBACK_SANITIZE)
  target_compile_options(skewback_flags INTERFACE
    -fsanitize=address,undefined -fno-sanitize-recover=undefined -fno-omit-frame-pointer)
  target_link_options(skewback_flags INTERFACE -fsanitize=address,undefined)
endif()
target_include_directories(skewback_flags INTERFACE ${CMAKE_SOURCE_DIR}/src)
