/* Tasks, timer, watchdog, resets, time. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <ucontext.h>
#include <unistd.h>

#include "esp_task_wdt.h"
#include "esp_timer.h"
#include "freertos/task.h"
#include "model.h"
#include "script_file.h"

#define NS SURROUNDINGS_NS_PER_US
#define TASKS 8u
#define STACK 262144u
#define CALL_NS 1000u
/* From an event to the task that it wakes: interrupt, system, change of tasks (assumed). */
#define WAKE_NS 10000u
/* Loaders; less than they take. */
#define BOOT_NS 20000000u
#define MS 1000000u

struct task {
    ucontext_t context;
    TaskFunction_t code;
    void *parameters;
    UBaseType_t priority;
    uint32_t notified;
    bool (*ready)(void *owner); /* null: it may run */
    void *owner;
};

struct esp_timer {
    esp_timer_create_args_t args;
    uint64_t due; /* UINT64_MAX: not started */
};

model_world the_world;

static struct task tasks[TASKS];
static unsigned task_count;
static struct task *running;
static ucontext_t scheduler;
static struct esp_timer timer = {.due = UINT64_MAX};
static bool timer_made;
static bool lives;
static uint64_t watchdog_ns; /* 0: off */
static uint64_t fed_at;
static bool watched;

void app_main(void);

/* ---- time ---- */

static void end_program(void)
{
    const uint64_t total = the_world.around.now - the_world.clock_start;

    driver_end();
    spi_end();
    printf("measure clock_start_us %.3f\n", (double)the_world.clock_start / NS);
    printf("measure sleep_share %.4f\n", (double)the_world.slept / (double)total);
    printf("measure frames_heard %" PRIu64 "\n", the_world.around.heard);
    fflush(stdout);
    _exit(0);
}

static void pass(uint64_t to)
{
    locum_reset_cause cause;

    surroundings_advance(&the_world.around, to);
    spi_follow();
    if (the_world.around.now >= the_world.around.script.end * NS) {
        end_program();
    }
    if (surroundings_take_reset(&the_world.around, &cause)) {
        model_reset(cause == LOCUM_RESET_POWER      ? ESP_RST_POWERON
                    : cause == LOCUM_RESET_WATCHDOG ? ESP_RST_TASK_WDT
                                                    : ESP_RST_BROWNOUT);
    }
    if (watched && watchdog_ns != 0u && the_world.around.now - fed_at > watchdog_ns) {
        printf("fault - the watchdog has expired\n");
        model_reset(ESP_RST_TASK_WDT);
    }
}

void model_pass(uint64_t ns)
{
    pass(the_world.around.now + ns);
}

void model_call(void)
{
    model_pass(CALL_NS);
}

/* ---- tasks ---- */

static void enter(void)
{
    running->code(running->parameters);
    printf("fault - a task has ended\n");
    fflush(stdout);
    _exit(3);
}

BaseType_t xTaskCreate(TaskFunction_t code, const char *name, uint32_t stack, void *parameters,
                       UBaseType_t priority, TaskHandle_t *task)
{
    struct task *made = &tasks[task_count++];

    (void)name;
    (void)stack;
    *made = (struct task){.code = code, .parameters = parameters, .priority = priority};
    getcontext(&made->context);
    made->context.uc_stack.ss_sp = malloc(STACK);
    made->context.uc_stack.ss_size = STACK;
    made->context.uc_link = &scheduler;
    makecontext(&made->context, enter, 0);
    if (task != NULL) {
        *task = made;
    }
    return pdPASS;
}

TaskHandle_t xTaskGetCurrentTaskHandle(void)
{
    return running;
}

void vTaskPrioritySet(TaskHandle_t task, UBaseType_t priority)
{
    (task != NULL ? task : running)->priority = priority;
}

BaseType_t xTaskNotifyGive(TaskHandle_t task)
{
    task->notified++;
    return pdPASS;
}

void vTaskNotifyGiveFromISR(TaskHandle_t task, BaseType_t *woken)
{
    (void)xTaskNotifyGive(task);
    *woken = pdTRUE;
}

void model_wait(bool (*ready)(void *owner), void *owner)
{
    running->ready = ready;
    running->owner = owner;
    swapcontext(&running->context, &scheduler);
}

static bool is_notified(void *owner)
{
    return ((struct task *)owner)->notified != 0u;
}

uint32_t ulTaskNotifyTake(BaseType_t clear, TickType_t ticks)
{
    uint32_t count;

    model_call();
    if (running->notified == 0u && ticks != 0u) {
        model_wait(is_notified, running);
    }
    count = running->notified;
    running->notified = clear != pdFALSE || count == 0u ? 0u : count - 1u;
    return count;
}

static struct task *most_urgent(void)
{
    struct task *found = NULL;

    for (unsigned i = 0; i < task_count; i++) {
        struct task *task = &tasks[i];

        if ((task->ready == NULL || task->ready(task->owner)) &&
            (found == NULL || task->priority > found->priority)) {
            found = task;
        }
    }
    return found;
}

static void ring(void)
{
    if (timer.due <= the_world.around.now) {
        timer.due = UINT64_MAX;
        timer.args.callback(timer.args.arg);
    }
}

static void sleep_until_something(void)
{
    const uint64_t from = the_world.around.now;

    while (most_urgent() == NULL) {
        uint64_t next = surroundings_next(&the_world.around);

        next = timer.due < next ? timer.due : next;
        if (watched && watchdog_ns != 0u && fed_at + watchdog_ns + 1u < next) {
            next = fed_at + watchdog_ns + 1u;
        }
        pass(next > from ? next : from);
        ring();
    }
    the_world.slept += the_world.around.now - from;
    pass(the_world.around.now + WAKE_NS);
}

static void run_tasks(void)
{
    for (;;) {
        ring();
        if (most_urgent() == NULL) {
            sleep_until_something();
        }
        running = most_urgent();
        running->ready = NULL;
        swapcontext(&scheduler, &running->context);
    }
}

/* ---- timer ---- */

esp_err_t esp_timer_create(const esp_timer_create_args_t *args, esp_timer_handle_t *made)
{
    if (timer_made) {
        return ESP_ERR_NO_MEM; /* of the model */
    }
    timer_made = true;
    timer.args = *args;
    *made = &timer;
    return ESP_OK;
}

esp_err_t esp_timer_start_once(esp_timer_handle_t which, uint64_t timeout_us)
{
    model_call();
    if (which->due != UINT64_MAX) {
        return ESP_ERR_INVALID_STATE;
    }
    which->due = the_world.around.now + timeout_us * NS;
    return ESP_OK;
}

esp_err_t esp_timer_stop(esp_timer_handle_t which)
{
    model_call();
    if (which->due == UINT64_MAX) {
        return ESP_ERR_INVALID_STATE;
    }
    which->due = UINT64_MAX;
    return ESP_OK;
}

int64_t esp_timer_get_time(void)
{
    static unsigned reads;

    if (!lives) {
        lives = true;
        printf("life %.3f\n", (double)the_world.around.now / NS);
        if (!the_world.began) {
            the_world.began = true;
            the_world.clock_start = the_world.around.now;
        }
    } else if (++reads % 4u == 0u) {
        model_call();
    }
    return (int64_t)(the_world.around.now / NS);
}

/* ---- watchdog ---- */

/* The system has begun to watch already, as its settings say by default. */
esp_err_t esp_task_wdt_init(const esp_task_wdt_config_t *config)
{
    (void)config;
    return ESP_ERR_INVALID_STATE;
}

esp_err_t esp_task_wdt_reconfigure(const esp_task_wdt_config_t *config)
{
    watchdog_ns = config->trigger_panic ? (uint64_t)config->timeout_ms * MS : 0u;
    fed_at = the_world.around.now;
    return ESP_OK;
}

esp_err_t esp_task_wdt_add(TaskHandle_t task)
{
    (void)task;
    watched = true;
    fed_at = the_world.around.now;
    return ESP_OK;
}

esp_err_t esp_task_wdt_reset(void)
{
    fed_at = the_world.around.now;
    return ESP_OK;
}

/* ---- resets ---- */

esp_reset_reason_t esp_reset_reason(void)
{
    return the_world.reason;
}

void esp_restart(void)
{
    printf("fault - the program restarts the chip\n");
    model_reset(ESP_RST_SW);
}

static int state_fd(void)
{
    return atoi(getenv("LOCUM_STATE"));
}

void model_reset(esp_reset_reason_t reason)
{
    char *const arguments[] = {getenv("LOCUM_PROGRAM"), NULL};

    printf("reset %" PRIu64 "\n", the_world.around.now / NS);
    fflush(stdout);
    driver_end();
    spi_end();
    for (unsigned i = 0; i < the_world.around.count; i++) {
        surroundings_cut(&the_world.around, i);
    }
    the_world.reason = reason;
    the_world.has_kept = reason != ESP_RST_POWERON && model_kept != NULL;
    if (the_world.has_kept) {
        memcpy(the_world.kept, model_kept, model_kept_size);
    }
    fflush(stdout);
    (void)pwrite(state_fd(), &the_world, sizeof the_world, 0);
    (void)execv(arguments[0], arguments);
    _exit(3);
}

/* ---- the program's frame ---- */

static const char usage[] =
    "usage: PROGRAM SCRIPT [options]\n"
    "  --clock 80000000   of the controllers' bit timing; first\n"
    "  --rate 0=500000    bit rate of a bus, in order\n"
    "  --input N=4        pin of input N\n"
    "  --spi 1,16000000,5,4,18,23,19\n"
    "                     an MCP2515 on a bus: bus, crystal, pins CS, INT, SCK, MOSI, MISO\n"
    "  --watch 2          print the levels that a pin puts out\n";

static bool read_option(const char *name, const char *text)
{
    unsigned number;
    unsigned pin;
    uint32_t rate;

    if (strcmp(name, "--clock") == 0) {
        return sscanf(text, "%" SCNu32, &the_world.clock_hz) == 1;
    }
    if (strcmp(name, "--rate") == 0 && sscanf(text, "%u=%" SCNu32, &number, &rate) == 2 &&
        number == the_world.around.count && number < SURROUNDINGS_BUSES) {
        surroundings_add(&the_world.around, rate, rate);
        return true;
    }
    if (strcmp(name, "--input") == 0 && sscanf(text, "%u=%u", &number, &pin) == 2 &&
        number < MODEL_INPUTS && pin < MODEL_PINS) {
        the_world.pin_of_input[number] = pin;
        return true;
    }
    if (strcmp(name, "--spi") == 0) {
        model_spi *spi = &the_world.spi;

        spi->wired = true;
        return sscanf(text, "%u,%" SCNu32 ",%u,%u,%u,%u,%u", &spi->bus, &spi->crystal_hz,
                      &spi->select, &spi->interrupt, &spi->sck, &spi->mosi, &spi->miso) == 7 &&
               spi->bus < the_world.around.count && spi->select < MODEL_PINS &&
               spi->interrupt < MODEL_PINS;
    }
    if (strcmp(name, "--watch") == 0) {
        return sscanf(text, "%u", &the_world.watched) == 1 && the_world.watched < MODEL_PINS;
    }
    return false;
}

static bool begin_world(int argc, char **argv)
{
    char text[16];
    const int state = memfd_create("state", 0);

    the_world.watched = MODEL_PINS - 1u;
    the_world.watched_level = -1;
    the_world.reason = ESP_RST_POWERON;
    for (int i = 2; i < argc; i += 2) {
        if (i + 1 >= argc || !read_option(argv[i], argv[i + 1])) {
            fprintf(stderr, "not understood: %s\n%s", argv[i], usage);
            return false;
        }
    }
    if (argc < 2 || state < 0 || !script_read_file(&the_world.around.script, argv[1])) {
        fputs(usage, stderr);
        return false;
    }
    snprintf(text, sizeof text, "%d", state);
    setenv("LOCUM_STATE", text, 1);
    setenv("LOCUM_PROGRAM", argv[0], 1);
    return true;
}

static void run_app(void *nothing)
{
    (void)nothing;
    app_main();
}

int model_main(int argc, char **argv);

int model_main(int argc, char **argv)
{
    bool restarted = false;

    if (getenv("LOCUM_STATE") != NULL) {
        if (pread(state_fd(), &the_world, sizeof the_world, 0) != (ssize_t)sizeof the_world) {
            return 3;
        }
        restarted = true;
    } else if (!begin_world(argc, argv)) {
        return 2;
    }
    if (model_kept != NULL) {
        memset(model_kept, 0xA5, model_kept_size);
        if (the_world.has_kept) {
            memcpy(model_kept, the_world.kept, model_kept_size);
        }
    }
    pins_begin();
    driver_begin();
    spi_begin();
    surroundings_advance(&the_world.around, the_world.around.now);
    pass(the_world.around.now + (restarted ? BOOT_NS : 0u));
    (void)xTaskCreate(run_app, "main", 0, NULL, 1, NULL);
    run_tasks();
    return 0;
}
