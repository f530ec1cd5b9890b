/* Registers and bits of the MCP2515 (DS20001801), shared by the parts of the model. */
#ifndef MCP2515_MAP_H
#define MCP2515_MAP_H

enum {
    R_TXRTSCTRL = 0x0D,
    R_CANSTAT = 0x0E,
    R_CANCTRL = 0x0F,
    R_TEC = 0x1C,
    R_REC = 0x1D,
    R_RXM0 = 0x20,
    R_RXM1 = 0x24,
    R_CNF3 = 0x28,
    R_CNF2 = 0x29,
    R_CNF1 = 0x2A,
    R_CANINTE = 0x2B,
    R_CANINTF = 0x2C,
    R_EFLG = 0x2D,
    R_TXB0CTRL = 0x30,
    R_RXB0CTRL = 0x60,
    R_RXB1CTRL = 0x70
};

enum { TXB_STEP = 0x10, TXREQ = 0x08, TXP = 0x03 };
enum { MODE_MASK = 0xE0, MODE_NORMAL = 0x00, MODE_LISTEN_ONLY = 0x60, MODE_CONFIGURATION = 0x80 };
enum { ABAT = 0x10 };
enum { RX0IF = 0x01, RX1IF = 0x02, TX0IF = 0x04, ERRIF = 0x20 };
enum { RXM_ANY = 0x60, BUKT = 0x04 };
enum { EWARN = 0x01, TXWAR = 0x04, TXEP = 0x10, TXBO = 0x20, RX0OVR = 0x40, RX1OVR = 0x80 };
enum { SIDL_IDE = 0x08, SIDL_SRR = 0x10, DLC_RTR = 0x40, RXB_RTR = 0x08 };

#endif
