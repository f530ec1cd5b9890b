/* What runs from flash: copies the program into the tightly coupled memory and starts it there. */
#include "board_parts.h"

/* Addresses from the linker script. */
extern uint32_t layout_stack_top[];
extern const uint32_t layout_code_load[];
extern uint32_t layout_code_start[];
extern uint32_t layout_code_end[];

static IN_FLASH void load(void)
{
    const uint32_t *from = layout_code_load;

    __asm volatile("cpsid i" ::: "memory");
    for (volatile uint32_t *to = layout_code_start; to != layout_code_end; to++) {
        *to = *from++;
    }
    SCB_VTOR = (uint32_t)layout_code_start; /* the vectors lie first */
    __asm volatile("dsb\n\tisb" ::: "memory");
    ((void (*)(void))layout_code_start[1])();
}

__attribute__((section(".loader_vectors"), used)) static const struct {
    uint32_t *stack_top;
    void (*enter)(void);
} vectors = {layout_stack_top, load};
