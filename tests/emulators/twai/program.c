/* The program's own main is renamed, so that the model has the first word. */
int model_main(int argc, char **argv);

int main(int argc, char **argv)
{
    return model_main(argc, argv);
}
