/* The part of the MCP2515's data sheet (DS20001801) that the driver uses. */
#ifndef MCP2515_REGISTERS_H
#define MCP2515_REGISTERS_H

/* SPI instructions */
#define MCP_RESET 0xC0u
#define MCP_READ 0x03u
#define MCP_WRITE 0x02u
#define MCP_BIT_MODIFY 0x05u
#define MCP_READ_STATUS 0xA0u
#define MCP_LOAD_TX(buffer) (0x40u | (unsigned)((buffer) << 1)) /* from TXBnSIDH on */
#define MCP_RTS 0x80u                                           /* bit n: transmit buffer n */
#define MCP_READ_RX(buffer) (0x90u | (unsigned)((buffer) << 2)) /* from RXBnSIDH on */
#define MCP_READ_RX_BUFFERS 0x04u                               /* the bit that tells which */

/* Bits of READ STATUS: TXREQ of the three transmit buffers */
#define MCP_STATUS_TXREQ_0 0x04u
#define MCP_STATUS_TXREQ_1 0x10u
#define MCP_STATUS_TXREQ_2 0x40u
#define MCP_STATUS_TXREQ_ALL 0x54u
/* and the flags of the two receive buffers */
#define MCP_STATUS_RX0IF 0x01u
#define MCP_STATUS_RX1IF 0x02u

/* Registers */
#define MCP_RXF0SIDH 0x00u
#define MCP_CANSTAT 0x0Eu
#define MCP_CANCTRL 0x0Fu
#define MCP_RXF3SIDH 0x10u
#define MCP_RXM0SIDH 0x20u
#define MCP_CNF3 0x28u /* then CNF2, CNF1, CANINTE, CANINTF, EFLG */
#define MCP_CANINTE 0x2Bu
#define MCP_CANINTF 0x2Cu
#define MCP_EFLG 0x2Du
#define MCP_TXBCTRL(buffer) (0x30u + (unsigned)((buffer) << 4)) /* then SIDH ... D7 */
#define MCP_RXB0CTRL 0x60u

/* CANSTAT and CANCTRL */
#define MCP_MODE_MASK 0xE0u
#define MCP_MODE_NORMAL 0x00u
#define MCP_MODE_CONFIGURATION 0x80u

/* TXBnCTRL: the buffer waits, or is on the wire */
#define MCP_TXREQ 0x08u

/* CANINTE and CANINTF: the three transmit buffers, the two receive buffers, a change in EFLG */
#define MCP_INT_TX_ALL 0x1Cu
#define MCP_INT_RX_ALL 0x03u
#define MCP_INT_ERROR 0x20u

/* EFLG: a frame was lost because RXB0 or RXB1 was full; bus-off; an error counter at 96 or above */
#define MCP_EFLG_RXOVR 0xC0u
#define MCP_EFLG_BUS_OFF 0x20u
#define MCP_EFLG_COUNTERS 0x1Fu

/* RXB0CTRL: filters on, and a frame for RXB0 goes to RXB1 while RXB0 is full */
#define MCP_RXB0CTRL_BUKT 0x04u

/* SIDL: 29-bit identifier; remote frame with 11 bits */
#define MCP_SIDL_EXIDE 0x08u
#define MCP_SIDL_SRR 0x10u

/* DLC: remote frame with 29 bits */
#define MCP_DLC_RTR 0x40u
#define MCP_DLC_MASK 0x0Fu

#endif
