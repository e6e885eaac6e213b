# Puts files into the program, so that it needs nothing beside itself.

# coilbook_embed(TARGET NAME FILE) makes `NAME` available to TARGET as the two symbols
# coilbook_NAME_begin and coilbook_NAME_end, declared where they are used:
#     extern "C" const unsigned char coilbook_NAME_begin[], coilbook_NAME_end[];
function(coilbook_embed target name file)
    set(assembly ${CMAKE_CURRENT_BINARY_DIR}/embedded_${name}.S)
    file(CONFIGURE OUTPUT ${assembly} @ONLY CONTENT
"    .section .rodata
    .global coilbook_@name@_begin
    .global coilbook_@name@_end
    .balign 16
coilbook_@name@_begin:
    .incbin \"@file@\"
coilbook_@name@_end:
    .byte 0
    .section .note.GNU-stack,\"\",@progbits
")
    set_source_files_properties(${assembly} PROPERTIES OBJECT_DEPENDS ${file})
    target_sources(${target} PRIVATE ${assembly})
endfunction()
