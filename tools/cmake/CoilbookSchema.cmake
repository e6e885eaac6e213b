# Puts the numbered SQL files of a folder into the program.

# coilbook_schema(TARGET FOLDER FUNCTION HEADER) adds to TARGET a generated source that defines
# `std::span<const db::Migration> FUNCTION()`, declared in HEADER (both as C++ names them), with one
# migration for each file FOLDER/NNNN_name.sql, in order. Building fails on a name that does not fit
# and on a gap in the numbers; a file that is added, edited or removed is noticed by the next build.
function(coilbook_schema target folder function header)
    file(GLOB files CONFIGURE_DEPENDS ${folder}/*)
    list(SORT files)
    set(expected 1)
    set(steps "")
    foreach(file IN LISTS files)
        get_filename_component(name ${file} NAME)
        if(NOT name MATCHES "^([0-9][0-9][0-9][0-9])_([a-z0-9_]+)\\.sql$")
            message(FATAL_ERROR "${file}: a schema file is named NNNN_name.sql, such as "
                                "0001_catalogue.sql")
        endif()
        set(title ${CMAKE_MATCH_2})
        string(REGEX REPLACE "^0+([0-9])" "\\1" number ${CMAKE_MATCH_1})
        if(NOT number EQUAL expected)
            message(FATAL_ERROR "${file}: expected number ${expected}; schema files are numbered "
                                "from 1 without a gap")
        endif()
        file(READ ${file} sql)
        string(FIND "${sql}" ")sql\"" end_of_literal)
        if(NOT end_of_literal EQUAL -1)
            message(FATAL_ERROR "${file}: must not hold the characters )sql\"")
        endif()
        string(APPEND steps "    {${number}, \"${title}\", R\"sql(${sql})sql\"},\n")
        set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${file})
        math(EXPR expected "${expected} + 1")
    endforeach()
    if(expected EQUAL 1)
        message(FATAL_ERROR "${folder}: there is no schema file")
    endif()
    math(EXPR count "${expected} - 1")
    set(source ${CMAKE_CURRENT_BINARY_DIR}/embedded_schema.cpp)
    file(CONFIGURE OUTPUT ${source} @ONLY CONTENT
"// Generated from @folder@ by tools/cmake/CoilbookSchema.cmake.
#include <array>
#include <span>

#include \"@header@\"

namespace {

constexpr std::array<coilbook::db::Migration, @count@> steps{{
@steps@}};

}  // namespace

std::span<const coilbook::db::Migration> @function@() {
    return steps;
}
")
    target_sources(${target} PRIVATE ${source})
endfunction()
