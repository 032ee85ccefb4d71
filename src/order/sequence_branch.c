#include "order/sequence_branch.h"

#include <math.h>
#include <string.h>

/* An assignment with some steps barred and some held. `next`, `leave`: of each task; given back once it has branched.
 */
struct node {
    struct node *parent;
    uint16_t *steps; /* what it branched on: the tasks whose steps these are, with that step's end behind each */
    size_t barred;   /* of the parent's steps: this one is barred, those before it are held */
    double bound;
    uint64_t number;
    uint16_t *next;
    double *leave;
};

struct wh_sequence_branching {
    struct wh_sequence_run *run;
    struct wh_sequence_assignment *a;
    struct wh_arena *arena;
    size_t n, bytes;
    WH_LIST(struct node *) heap;  /* lowest bound first */
    WH_LIST(struct node *) spare; /* whose room can be used again */
    struct node *best; /* child of the node at hand, gone on with next: it leads down to a sequence; or NULL */
    uint64_t made;
    size_t *order, *place, *ring, *free; /* of the assignment at hand */
    uint16_t *steps;
    size_t step_count;
};

static bool comes_first(const struct node *a, const struct node *b)
{
    if (a->bound < b->bound || a->bound > b->bound) return a->bound < b->bound;
    return a->number > b->number;
}

static void push(struct wh_sequence_branching *b, struct node *node)
{
    WH_PUSH(b->arena, &b->heap);
    size_t at = b->heap.count - 1;
    for (; at > 0 && comes_first(node, b->heap.at[(at - 1) / 2]); at = (at - 1) / 2) {
        b->heap.at[at] = b->heap.at[(at - 1) / 2];
    }
    b->heap.at[at] = node;
}

static struct node *pop(struct wh_sequence_branching *b)
{
    struct node *first = b->heap.at[0], *last = b->heap.at[--b->heap.count];
    size_t at = 0;
    for (size_t child; (child = 2 * at + 1) < b->heap.count; at = child) {
        if (child + 1 < b->heap.count && comes_first(b->heap.at[child + 1], b->heap.at[child])) child++;
        if (!comes_first(b->heap.at[child], last)) break;
        b->heap.at[at] = b->heap.at[child];
    }
    if (b->heap.count) b->heap.at[at] = last;
    return first;
}

static struct node *new_node(struct wh_sequence_branching *b)
{
    struct node *node = WH_NEW(b->arena, 1, struct node);
    if (b->spare.count) {
        struct node *spare = b->spare.at[--b->spare.count];
        node->next = spare->next;
        node->leave = spare->leave;
    } else {
        node->next = WH_NEW(b->arena, b->n, uint16_t);
        node->leave = WH_NEW(b->arena, b->n, double);
    }
    node->number = b->made++;
    return node;
}

/* Keeps the assignment at hand. */
static void save(struct wh_sequence_branching *b, struct node *node)
{
    for (size_t t = 0; t + 1 < b->n; t++) node->next[t] = (uint16_t)b->a->next[t];
    memcpy(node->leave, b->a->leave, b->n * sizeof *node->leave);
}

/* The assignment of a node, under what is barred and held in the matrix at hand. */
static void load(struct wh_sequence_branching *b, const struct node *node)
{
    struct wh_sequence_assignment *a = b->a;
    memcpy(a->leave, node->leave, b->n * sizeof *a->leave);
    for (size_t t = 0; t + 1 < b->n; t++) {
        size_t next = node->next[t];
        a->next[t] = next;
        a->from[next] = t;
        a->come[next] = a->cost[t * b->n + next] - a->leave[t];
    }
}

static double *cost_of(struct wh_sequence_branching *b, const uint16_t *step)
{
    return &b->a->cost[step[0] * b->n + step[1]];
}

/* Bars and holds what a node and those above it do, or undoes it. */
static void apply(struct wh_sequence_branching *b, const struct node *node, bool undo)
{
    for (; node->parent; node = node->parent) {
        const uint16_t *steps = node->parent->steps, *barred = &steps[2 * node->barred];
        *cost_of(b, barred) = undo ? b->run->model->cost[barred[0] * b->n + barred[1]] : INFINITY;
        for (size_t k = 0; k < node->barred; k++) b->a->held[steps[2 * k + 1]] = !undo;
    }
}

/* The steps from `task` on, `count` tasks that follow each other, that are not held become what to branch on, when
 * they are fewer than those found so far. */
static void consider(struct wh_sequence_branching *b, size_t task, size_t free, size_t count)
{
    if (free >= b->step_count) return;
    b->step_count = 0;
    for (; count > 0; count--, task = b->a->next[task]) {
        size_t next = b->a->next[task];
        if (b->a->held[next]) continue;
        b->steps[2 * b->step_count] = (uint16_t)task;
        b->steps[2 * b->step_count++ + 1] = (uint16_t)next;
    }
}

static void consider_rings(struct wh_sequence_branching *b)
{
    for (size_t first = 0; first < b->n; first++) {
        if (b->ring[first] == 0 || b->place[first]) continue;
        size_t free = 0, count = 0, task = first;
        do {
            b->place[task] = 1;
            task = b->a->next[task];
            free += !b->a->held[task];
            count++;
        } while (task != first);
        consider(b, first, free, count);
    }
}

/* Where the way from the start comes by one that has to be after another still to come. */
static void consider_way(struct wh_sequence_branching *b)
{
    const struct wh_sequence_model *m = b->run->model;
    size_t count = 0;
    for (size_t t = 0;; t = b->a->next[t]) {
        b->order[count] = t;
        b->place[t] = count;
        b->free[count] = count ? b->free[count - 1] + !b->a->held[t] : 0;
        count++;
        if (t == b->n - 1) break;
    }
    for (size_t j = 1; j < count; j++) {
        const uint64_t *after = &m->after[b->order[j] * m->words];
        for (size_t i = j; i-- > 0 && b->free[j] - b->free[i] < b->step_count;) {
            if (!wh_sequence_has(after, b->order[i])) continue;
            consider(b, b->order[i], b->free[j] - b->free[i], j - i);
            break;
        }
    }
}

/* Finds what is wrong with the assignment at hand; false: nothing, it is a sequence. */
static bool find_fault(struct wh_sequence_branching *b)
{
    b->step_count = SIZE_MAX;
    wh_sequence_rings(b->a, b->a->next, b->ring);
    memset(b->place, 0, b->n * sizeof *b->place);
    consider_rings(b);
    consider_way(b);
    return b->step_count != SIZE_MAX;
}

static void keep(struct wh_sequence_branching *b, struct node *child)
{
    bool better = !b->best || child->bound < b->best->bound;
    struct node *other = better ? b->best : child;
    if (other) push(b, other);
    if (better) b->best = child;
}

/* One child: step `k` barred, those before it held already. */
static void make_child(struct wh_sequence_branching *b, struct node *node, size_t k)
{
    const uint16_t *step = &node->steps[2 * k];
    if (!wh_sequence_spend(b->run, 1 + b->n * b->n / 65536)) return;
    *cost_of(b, step) = INFINITY;
    b->a->from[step[1]] = WH_SEQUENCE_NOBODY;
    double more = wh_sequence_assign_again(b->a, step[0], wh_sequence_cut(b->run) - node->bound);
    *cost_of(b, step) = b->run->model->cost[step[0] * b->n + step[1]];
    if (isfinite(more) && node->bound + more <= wh_sequence_cut(b->run)) {
        struct node *child = new_node(b);
        child->parent = node;
        child->barred = k;
        child->bound = node->bound + more;
        save(b, child);
        keep(b, child);
    }
    load(b, node);
}

static void branch(struct wh_sequence_branching *b, struct node *node)
{
    apply(b, node, false);
    load(b, node);
    wh_sequence_patch(b->a, b->order);
    wh_sequence_offer(b->run, b->order);
    if (node->bound <= wh_sequence_cut(b->run) && find_fault(b)) {
        node->steps = WH_NEW(b->arena, 2 * b->step_count + 1, uint16_t);
        memcpy(node->steps, b->steps, 2 * b->step_count * sizeof *b->steps);
        size_t count = b->step_count;
        for (size_t k = 0; k < count; k++) {
            make_child(b, node, k);
            b->a->held[node->steps[2 * k + 1]] = true;
        }
        for (size_t k = 0; k < count; k++) b->a->held[node->steps[2 * k + 1]] = false;
    }
    apply(b, node, true);
    *WH_PUSH(b->arena, &b->spare) = node;
}

struct wh_sequence_branching *wh_sequence_branch_make(struct wh_arena *arena, struct wh_sequence_run *run,
                                                      struct wh_sequence_assignment *assignment, size_t bytes)
{
    size_t n = run->model->n;
    struct wh_sequence_branching *b = WH_NEW(arena, 1, struct wh_sequence_branching);
    *b = (struct wh_sequence_branching){.run = run, .a = assignment, .arena = arena, .n = n};
    b->bytes = wh_arena_used(arena) + bytes;
    b->order = WH_NEW(arena, n, size_t);
    b->place = WH_NEW(arena, n, size_t);
    b->ring = WH_NEW(arena, n, size_t);
    b->free = WH_NEW(arena, n, size_t);
    b->steps = WH_NEW(arena, 2 * n, uint16_t);
    struct node *root = new_node(b);
    for (size_t t = 0; t + 1 < n; t++) root->bound += run->model->cost[t * n + assignment->next[t]];
    save(b, root);
    push(b, root);
    return b;
}

static double lowest(const struct wh_sequence_branching *b)
{
    double heap = b->heap.count ? b->heap.at[0]->bound : INFINITY;
    return b->best ? fmin(heap, b->best->bound) : heap;
}

static struct node *take(struct wh_sequence_branching *b)
{
    struct node *best = b->best;
    b->best = NULL;
    return best && best->bound <= wh_sequence_cut(b->run) ? best : pop(b);
}

bool wh_sequence_branch_on(struct wh_sequence_branching *b, uint64_t nodes)
{
    size_t most = (b->n * 12 + 256) * b->n; /* bytes that one branching may take */
    uint64_t end = b->run->nodes + nodes;
    while (b->run->nodes < end) {
        if (isinf(lowest(b)) || lowest(b) > wh_sequence_cut(b->run)) {
            wh_sequence_raise(b->run, b->run->cost);
            return true;
        }
        if (wh_arena_used(b->arena) + most > b->bytes) return true;
        branch(b, take(b));
        if (b->run->stopped) return true; /* in the middle of a node: some of its children are missing */
        wh_sequence_raise(b->run, lowest(b));
    }
    return false;
}
