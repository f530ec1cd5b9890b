#pragma once

#include "freertos/FreeRTOS.h"

typedef struct task *TaskHandle_t;
typedef void (*TaskFunction_t)(void *);

BaseType_t xTaskCreate(TaskFunction_t code, const char *name, uint32_t stack, void *parameters,
                       UBaseType_t priority, TaskHandle_t *task);
TaskHandle_t xTaskGetCurrentTaskHandle(void);
void vTaskPrioritySet(TaskHandle_t task, UBaseType_t priority);
BaseType_t xTaskNotifyGive(TaskHandle_t task);
void vTaskNotifyGiveFromISR(TaskHandle_t task, BaseType_t *woken);
uint32_t ulTaskNotifyTake(BaseType_t clear, TickType_t ticks);
