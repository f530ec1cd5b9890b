#pragma once

#include <stdint.h>

typedef uint32_t TickType_t;
typedef int BaseType_t;
typedef unsigned UBaseType_t;

#define pdFALSE 0
#define pdTRUE 1
#define pdPASS 1
#define portMAX_DELAY ((TickType_t)0xFFFFFFFFu)
#define portYIELD_FROM_ISR(woken) ((void)(woken))
