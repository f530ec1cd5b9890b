#pragma once

#include <stdbool.h>
#include <stdint.h>

#include "driver/gpio.h"
#include "esp_err.h"
#include "freertos/FreeRTOS.h"

#define TWAI_ALERT_NONE 0x00000000
#define TWAI_ALERT_TX_SUCCESS 0x00000002
#define TWAI_ALERT_RX_DATA 0x00000004
#define TWAI_ALERT_ERR_ACTIVE 0x00000010
#define TWAI_ALERT_BUS_RECOVERED 0x00000040
#define TWAI_ALERT_ERR_PASS 0x00001000
#define TWAI_ALERT_BUS_OFF 0x00002000

#define TWAI_IO_UNUSED ((gpio_num_t)-1)

typedef enum { TWAI_MODE_NORMAL, TWAI_MODE_NO_ACK, TWAI_MODE_LISTEN_ONLY } twai_mode_t;

typedef struct twai_obj_t *twai_handle_t;

typedef struct {
    int controller_id;
    twai_mode_t mode;
    gpio_num_t tx_io;
    gpio_num_t rx_io;
    gpio_num_t clkout_io;
    gpio_num_t bus_off_io;
    uint32_t tx_queue_len;
    uint32_t rx_queue_len;
    uint32_t alerts_enabled;
    uint32_t clkout_divider;
    int intr_flags;
} twai_general_config_t;

#define TWAI_GENERAL_CONFIG_DEFAULT_V2(controller_num, tx_io_num, rx_io_num, op_mode)              \
    {                                                                                              \
        .controller_id = controller_num, .mode = op_mode, .tx_io = tx_io_num, .rx_io = rx_io_num,  \
        .clkout_io = TWAI_IO_UNUSED, .bus_off_io = TWAI_IO_UNUSED, .tx_queue_len = 5,              \
        .rx_queue_len = 5, .alerts_enabled = TWAI_ALERT_NONE                                       \
    }

typedef struct {
    int clk_src;
    uint32_t quanta_resolution_hz; /* 0: brp counts */
    uint32_t brp;
    uint8_t tseg_1;
    uint8_t tseg_2;
    uint8_t sjw;
    bool triple_sampling;
} twai_timing_config_t;

typedef struct {
    uint32_t acceptance_code;
    uint32_t acceptance_mask;
    bool single_filter;
} twai_filter_config_t;

typedef struct {
    union {
        struct {
            uint32_t extd : 1;
            uint32_t rtr : 1;
            uint32_t ss : 1;
            uint32_t self : 1;
            uint32_t dlc_non_comp : 1;
            uint32_t reserved : 27;
        };
        uint32_t flags;
    };
    uint32_t identifier;
    uint8_t data_length_code;
    uint8_t data[8];
} twai_message_t;

typedef enum {
    TWAI_STATE_STOPPED,
    TWAI_STATE_RUNNING,
    TWAI_STATE_BUS_OFF,
    TWAI_STATE_RECOVERING
} twai_state_t;

typedef struct {
    twai_state_t state;
    uint32_t msgs_to_tx;
    uint32_t msgs_to_rx;
    uint32_t tx_error_counter;
    uint32_t rx_error_counter;
} twai_status_info_t;

esp_err_t twai_driver_install_v2(const twai_general_config_t *general,
                                 const twai_timing_config_t *timing,
                                 const twai_filter_config_t *filter, twai_handle_t *driver);
esp_err_t twai_start_v2(twai_handle_t driver);
esp_err_t twai_transmit_v2(twai_handle_t driver, const twai_message_t *message, TickType_t ticks);
esp_err_t twai_receive_v2(twai_handle_t driver, twai_message_t *message, TickType_t ticks);
esp_err_t twai_read_alerts_v2(twai_handle_t driver, uint32_t *alerts, TickType_t ticks);
esp_err_t twai_initiate_recovery_v2(twai_handle_t driver);
esp_err_t twai_get_status_info_v2(twai_handle_t driver, twai_status_info_t *status);
