# How the boards with a Cortex-M core are built: PROGRAM, and the folders of their parts in PARTS.
OUT ?= out
CC ?= cc
ROOT := ../../..
PC := $(ROOT)/templates/boards/pc
CORE := $(ROOT)/shared/core

SOURCES := $(wildcard *.c) $(wildcard ../cortexm/*.c) $(PARTS) \
	../stm32/elf_image.c ../stm32/cost.c ../stm32/report.c \
	../surroundings/surroundings.c ../bus_offs.c ../recessive.c ../script_file.c \
	$(PC)/bus_model.c $(PC)/script.c
HEADERS := $(wildcard *.h ../*.h ../cortexm/*.h ../stm32/*.h ../mcp2515/*.h ../spi/*.h ../surroundings/*.h $(PC)/*.h $(CORE)/*.h)
CFLAGS := -std=gnu99 $(DEFINES) -O2 -g -Wall -Wextra -Werror -I. -I../cortexm -I../surroundings -I.. -I$(PC) -I$(CORE) -idirafter ../stm32 -idirafter ../mcp2515 -idirafter ../spi

$(OUT)/$(PROGRAM): $(SOURCES) $(HEADERS)
	mkdir -p $(OUT)
	$(CC) $(CFLAGS) -o $@ $(SOURCES) -lunicorn

clean:
	rm -f $(OUT)/$(PROGRAM)

.PHONY: clean
