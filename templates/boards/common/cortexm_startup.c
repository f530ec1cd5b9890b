/* The way from reset to main. Interrupts stay masked, so the only exceptions are faults. */
#include "cortexm_board.h"

/* Addresses from the linker script. */
extern uint32_t layout_stack_top[];
extern const uint32_t layout_data_load[];
extern uint32_t layout_data_start[];
extern uint32_t layout_data_end[];
extern uint32_t layout_bss_start[];
extern uint32_t layout_bss_end[];

int main(void);

void reset_handler(void)
{
    const uint32_t *from = layout_data_load;

    __asm volatile("cpsid i" ::: "memory");
    for (uint32_t *to = layout_data_start; to != layout_data_end; to++) {
        *to = *from++;
    }
    for (uint32_t *to = layout_bss_start; to != layout_bss_end; to++) {
        *to = 0;
    }
    (void)main();
    board_stop(STOP_FAULT);
}

void fault_handler(void)
{
    /* The stack may be what failed. */
    __asm volatile("msr msp, %0" ::"r"(layout_stack_top) : "memory");
    board_stop(STOP_FAULT);
}

typedef void (*vector)(void);

typedef struct {
    uint32_t *stack_top;
    vector exceptions[15];
} vector_table;

#define FOUR(handler) handler, handler, handler, handler

__attribute__((section(".vectors"), used)) static const vector_table vectors = {
    layout_stack_top,
    {reset_handler, fault_handler, FOUR(fault_handler), FOUR(fault_handler), FOUR(fault_handler),
     fault_handler},
};
