// One row of kernels under the names they have in the file that includes this.
static const Kernels kTable{
    kName,
    factorise,
    solve,
    multiply,
    multiply_transposed,
    {transposed, gather, spread, gather_scaled, assemble, weigh, residuals, aim_tau, aim_affine,
     aim_centre, dot_residuals, dot_costs, direct, advance}};
