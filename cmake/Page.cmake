# skewback_page(TARGET): builds web/ and puts what comes out into TARGET, which then has
# lodge::built_page() (src/lodge/assets.hpp).
if(SKEWBACK_PAGE)
  find_program(SKEWBACK_NODE NAMES node nodejs)
  find_program(SKEWBACK_NPM npm)
  if(NOT SKEWBACK_NODE OR NOT SKEWBACK_NPM)
    message(FATAL_ERROR "The page of `skewback serve` needs node (18.19 or later) and npm to be built, "
      "and they are not on the PATH. Install them, or configure with -DSKEWBACK_PAGE=OFF: "
      "everything else is then built, and `skewback serve` answers without its page.")
  endif()
  execute_process(COMMAND ${SKEWBACK_NODE} --version OUTPUT_VARIABLE node_version OUTPUT_STRIP_TRAILING_WHITESPACE)
  string(REPLACE "v" "" node_version "${node_version}")
  if(node_version VERSION_LESS 18.19)
    message(FATAL_ERROR "node is ${node_version}; the page of `skewback serve` needs 18.19 or later to be built "
      "(-DSKEWBACK_PAGE=OFF builds everything else).")
  endif()
endif()

function(skewback_page target)
  set(made ${CMAKE_BINARY_DIR}/page)
  if(NOT SKEWBACK_PAGE)
    file(MAKE_DIRECTORY ${made}/none)
    execute_process(COMMAND ${CMAKE_COMMAND} -DFROM=${made}/none -DTO=${made}/off -P ${CMAKE_SOURCE_DIR}/cmake/embed.cmake
      COMMAND_ERROR_IS_FATAL ANY)
    target_sources(${target} PRIVATE ${made}/off/built_page.cpp)
    return()
  endif()
  set(web ${CMAKE_SOURCE_DIR}/web)
  set(vite ${web}/node_modules/vite/bin/vite.js)
  file(GLOB_RECURSE parts CONFIGURE_DEPENDS ${web}/src/*)
  list(FILTER parts EXCLUDE REGEX "\\.test\\.ts$")
  set(settings ${web}/package.json ${web}/package-lock.json ${web}/vite.config.ts ${web}/vite.view.config.ts)
  add_custom_command(
    OUTPUT ${made}/modules
    COMMAND ${CMAKE_COMMAND} -DWEB=${web} -DNPM=${SKEWBACK_NPM} -DSTAMP=${made}/modules -P ${CMAKE_SOURCE_DIR}/cmake/modules.cmake
    DEPENDS ${web}/package-lock.json ${CMAKE_SOURCE_DIR}/cmake/modules.cmake
    COMMENT "The page's modules" VERBATIM)
  add_custom_target(page_modules DEPENDS ${made}/modules)
  add_custom_command(
    OUTPUT ${made}/built_page.cpp ${made}/built_page.S
    COMMAND ${CMAKE_COMMAND} -E env LODGE_OUT=${made}/dist ${SKEWBACK_NODE} ${vite} build --logLevel warn
    COMMAND ${CMAKE_COMMAND} -E env LODGE_OUT=${made}/dist ${SKEWBACK_NODE} ${vite} build --logLevel warn -c vite.view.config.ts
    COMMAND ${CMAKE_COMMAND} -DFROM=${made}/dist -DTO=${made} -P ${CMAKE_SOURCE_DIR}/cmake/embed.cmake
    DEPENDS ${parts} ${settings} ${made}/modules ${CMAKE_SOURCE_DIR}/cmake/embed.cmake
    WORKING_DIRECTORY ${web}
    COMMENT "The page" VERBATIM)
  target_sources(${target} PRIVATE ${made}/built_page.cpp ${made}/built_page.S)
  # the flags of C++ are no good for the assembler
  set_source_files_properties(${made}/built_page.S PROPERTIES LANGUAGE ASM)
  if(SKEWBACK_TESTS)
    add_test(NAME page_units COMMAND ${SKEWBACK_NPM} test --silent WORKING_DIRECTORY ${web})
    add_test(NAME page_types COMMAND ${SKEWBACK_NPM} run check --silent WORKING_DIRECTORY ${web})
    set_tests_properties(page_units page_types PROPERTIES TIMEOUT 300)
  endif()
endfunction()
