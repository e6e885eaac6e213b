# One folder of src/ is one library and one test program, and links only its row of the table of
# allowed arrows in DEVELOPERS.md.

find_program(CCACHE ccache)
if(CCACHE)
    set(CMAKE_CXX_COMPILER_LAUNCHER ${CCACHE})
endif()

find_package(doctest REQUIRED)

# Links every target of ours with the project's warnings.
add_library(coilbook_options INTERFACE)
target_include_directories(coilbook_options INTERFACE ${CMAKE_SOURCE_DIR}/src)
target_compile_options(coilbook_options INTERFACE $<$<COMPILE_LANGUAGE:CXX>:${COILBOOK_WARNINGS}>)

# coilbook_folder(NAME SOURCES a.cpp … [TESTS a_test.cpp …] [USES folder …] [LIBRARIES target …]
# [COMPUTES]) makes the library coilbook_NAME and, from the tests beside the sources, the program
# test_NAME. COMPUTES: the tests do sums of their own, and are optimised as the rest is.
function(coilbook_folder name)
    cmake_parse_arguments(FOLDER "COMPUTES" "" "SOURCES;TESTS;USES;LIBRARIES" ${ARGN})
    list(TRANSFORM FOLDER_USES PREPEND coilbook_)
    if(FOLDER_SOURCES)
        add_library(coilbook_${name} STATIC ${FOLDER_SOURCES})
        target_link_libraries(coilbook_${name} PUBLIC coilbook_options ${FOLDER_USES}
                                                      ${FOLDER_LIBRARIES})
    else()
        add_library(coilbook_${name} INTERFACE)
        target_link_libraries(coilbook_${name} INTERFACE coilbook_options ${FOLDER_USES}
                                                         ${FOLDER_LIBRARIES})
    endif()
    if(FOLDER_TESTS)
        coilbook_test(${name} SOURCES ${FOLDER_TESTS} USES ${name})
        if(NOT FOLDER_COMPUTES)
            coilbook_quickly_built(test_${name})
        endif()
    endif()
endfunction()

# For code that the tests hardly spend time in: without optimisation a third of the time of
# building it is saved.
function(coilbook_quickly_built target)
    target_compile_options(${target} PRIVATE $<$<AND:$<COMPILE_LANGUAGE:CXX>,$<CONFIG:Debug>>:-O0>)
endfunction()

# What every test program shares: doctest's own main, and where the files of this checkout lie.
add_library(coilbook_test_main OBJECT ${CMAKE_SOURCE_DIR}/tests/support/main.cpp
                                      ${CMAKE_SOURCE_DIR}/tests/support/trees.cpp)
target_include_directories(coilbook_test_main PUBLIC ${CMAKE_SOURCE_DIR}/tests)
target_link_libraries(coilbook_test_main PUBLIC coilbook_options doctest::doctest)
target_compile_definitions(coilbook_test_main PRIVATE COILBOOK_SOURCE_DIR="${CMAKE_SOURCE_DIR}"
                                                      COILBOOK_BINARY_DIR="${CMAKE_BINARY_DIR}")

# coilbook_test(NAME SOURCES a_test.cpp … USES folder …) makes the doctest program test_NAME.
function(coilbook_test name)
    cmake_parse_arguments(TEST "" "" "SOURCES;USES;LIBRARIES" ${ARGN})
    list(TRANSFORM TEST_USES PREPEND coilbook_)
    add_executable(test_${name} ${TEST_SOURCES})
    target_link_libraries(test_${name} PRIVATE coilbook_test_main ${TEST_USES} ${TEST_LIBRARIES})
    add_test(NAME ${name} COMMAND test_${name})
endfunction()
