#include "board_parts.h"

/* Start-up time of the crystal in units of 8 slow clocks: 2 ms. */
#define CRYSTAL_START 8u
/* More than 100 ms at 4 MHz. */
#define CRYSTAL_LOOKS 100000u
#define FLASH_WAIT_STATES 4u /* at 84 MHz (datasheet, "Embedded Flash Characteristics") */

static bool is_ready(uint32_t flag)
{
    return board_wait(&PMC_SR, flag, flag, CRYSTAL_LOOKS);
}

/* 12 MHz x 14 / 2. */
bool clock_start(void)
{
    EFC0_FMR = FMR_WAIT_STATES(FLASH_WAIT_STATES);
    EFC1_FMR = FMR_WAIT_STATES(FLASH_WAIT_STATES);
    CKGR_MOR = MOR_KEY | MOR_XTAL_START(CRYSTAL_START) | MOR_RC_ON | MOR_XTAL_ON;
    if (!is_ready(PMC_XTAL_STABLE)) {
        return false;
    }
    CKGR_MOR = MOR_KEY | MOR_XTAL_START(CRYSTAL_START) | MOR_RC_ON | MOR_XTAL_ON | MOR_SELECT_XTAL;
    if (!is_ready(PMC_XTAL_SELECTED)) {
        return false;
    }
    CKGR_PLLAR = PLLAR_ONE | PLLAR(14u, 1u);
    if (!is_ready(PMC_PLLA_LOCKED)) {
        return false;
    }
    /* The divider first, then the source (datasheet, "Programming Sequence"). */
    PMC_MCKR = MCKR_DIVIDE_BY_2 | MCKR_MAIN;
    if (!is_ready(PMC_MASTER_READY)) {
        return false;
    }
    PMC_MCKR = MCKR_DIVIDE_BY_2 | MCKR_PLLA;
    return is_ready(PMC_MASTER_READY);
}
