/* Prints the sample document: paper_print A4|Letter FILE. */
#include "base/file.h"
#include "paper/paper.h"
#include "paper_sample.h"

#include <string.h>

static enum wh_status print(struct wh_arena *arena, void *context)
{
    char **words = context;
    struct wh_errors errors = wh_errors_in(arena);
    enum wh_status status = wh_paper_pdf(arena, paper_sample(arena, words[1]), words[2], &errors);
    const char *says = wh_errors_text(arena, &errors);

    wh_file_print(2, says, strlen(says));
    return status;
}

int main(int count, char **words)
{
    return count == 3 ? wh_status_exit(wh_arena_run((size_t)64 << 20, print, words)) : 2;
}
